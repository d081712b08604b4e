import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { verifyPin } from '@/lib/auth/pin'
import { mayClose, maySignOff } from '@/lib/permit/after-work'
import { personReasons } from '@/lib/permit/reasons'
import type { SignatureAct, Verdict } from '@/lib/permit/types'
import type { FinalSignInput } from '@/lib/schemas/watch'
import { db } from '../client'
import { doneBefore, once } from '../client-keys'
import {
  assertFresh,
  assertOnPermit,
  assertSeen,
  loadPermitContext,
  type PermitContext,
  refuseUnless,
} from '../permits/context'
import { addEvent, addSignature } from '../permits/events'
import { readPersonFact } from '../permits/person-fact'
import { signerReasons } from '../permits/signer'
import { inTransaction, type Tx } from '../tx'
import { lockPermit } from './event-facts'
import { keepingRefusals } from './refused'

type Done = { permitId: string }

type Step = Readonly<{
  action: string
  act: Extract<SignatureAct, 'final_watch' | 'final_pai'>
  role: 'fire_watch' | 'pai'
  may: (context: PermitContext, personId: string) => Verdict
}>

/** Everything but the PAI's signature, which is this very act. */
function mayCloseNow({ facts, now }: PermitContext): Verdict {
  const checked = mayClose(facts, now)
  if (checked.ok) return checked
  const reasons = checked.reasons.filter(
    ({ code, params }) => !(code === 'signature_missing' && params.act === 'final_pai'),
  )
  return reasons.length === 0 ? { ok: true } : { ok: false, reasons }
}

const SIGN_OFF: Step = {
  action: 'permit:sign-off',
  act: 'final_watch',
  role: 'fire_watch',
  may: ({ facts, now }, personId) => maySignOff(facts, personId, now),
}
const CLOSE: Step = {
  action: 'permit:close',
  act: 'final_pai',
  role: 'pai',
  may: mayCloseNow,
}

/** Everything that stands against it, at once: the duties, and whether this person may sign that part. */
async function check(tx: Tx, context: PermitContext, step: Step, personId: string): Promise<void> {
  const person = await readPersonFact(tx, context, personId)
  const notHis = await signerReasons(context.facts.siteId, personId, step.role)
  const { facts } = context
  const isOwnWork =
    step.role === 'pai' &&
    (personId === facts.operatorId || facts.operatorStints.some((one) => one.personId === personId))
  refuseUnless(step.may(context, personId), [
    ...personReasons(person, step.role, context.day),
    ...notHis,
    ...(isOwnWork ? [{ code: 'OWN_WORK', params: { personId } }] : []),
  ])
}

async function sign(viewer: Viewer, input: FinalSignInput, step: Step): Promise<Done> {
  const { siteId } = await assertOnPermit(viewer, 'permit:close', input.permitId)
  const { pin, deviceAt, ...rest } = input
  const submission = { key: input.key, action: step.action, input: rest }
  const done = await doneBefore<Done>(db, viewer, submission)
  if (done) return done
  return keepingRefusals(
    { viewer, action: step.action, siteId, subjectId: input.permitId },
    async () => {
      const before = await loadPermitContext(db, input.permitId)
      await check(db, before, step, input.personId)
      assertSeen(before, input.contentHash)
      await verifyPin(input.personId, pin)
      return inTransaction(viewer, 'permit:close', (tx) =>
        once(tx, viewer, submission, async () => {
          await lockPermit(tx, input.permitId)
          const context = await loadPermitContext(tx, input.permitId)
          assertFresh(context, input.version)
          await check(tx, context, step, input.personId)
          await addSignature(tx, context, {
            act: step.act,
            role: step.role,
            personId: input.personId,
            deviceAt,
            contentHash: input.contentHash,
          })
          if (step.act === 'final_pai')
            await addEvent(tx, { viewer, role: 'pai', context }, 'closed', {
              personId: input.personId,
              deviceAt,
            })
          return { permitId: input.permitId }
        }),
      )
    },
  )
}

/** Who stood the watch signs it off, with their own PIN, once every duty is worked off. */
export function signOffWatch(viewer: Viewer, input: FinalSignInput): Promise<Done> {
  return sign(viewer, input, SIGN_OFF)
}

/** The PAI signs last and the permit is closed, in one act. Too early, and every reason is said and the attempt kept. */
export function closePermit(viewer: Viewer, input: FinalSignInput): Promise<Done> {
  return sign(viewer, input, CLOSE)
}

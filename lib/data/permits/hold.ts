import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { verifyPin } from '@/lib/auth/pin'
import type { Reason } from '@/lib/errors'
import { mayWithdraw, ruleReasons } from '@/lib/permit/issue'
import { surveyReasons } from '@/lib/permit/survey-answers'
import { mayEndWork, mayHold, mayReopen, mayResume, type ResumeInput } from '@/lib/permit/work'
import type {
  EndWorkInput,
  HoldPermitInput,
  ResumePermitInput,
  WithdrawPermitInput,
} from '@/lib/schemas/permit'
import { db } from '../client'
import { doneBefore, once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction, type Tx } from '../tx'
import {
  assertFresh,
  assertOnPermit,
  assertSeen,
  loadPermitContext,
  type PermitContext,
  refuseUnless,
} from './context'
import { addEvent, addSignature } from './events'
import { outfitReasons } from './issue'
import { readPersonFact } from './person-fact'
import { signerReasons } from './signer'

type Done = Readonly<{ permitId: string }>

/** Torch out, valves shut: the watch runs from this minute, validity goes on burning. */
export async function holdPermit(viewer: Viewer, input: HoldPermitInput): Promise<Done> {
  const { siteId } = await assertOnPermit(viewer, 'permit:hold', input.permitId)
  const role = roleThen(viewer, 'permit:hold', siteId)
  return inTransaction(viewer, 'permit:hold', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:hold', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      const needsGasOff = context.facts.isEnclosed && input.gasOffOutside === undefined
      refuseUnless(mayHold(context.facts), needsGasOff ? [{ code: 'GAS_NOT_OFF_OUTSIDE' }] : [])
      const data = {
        reason: input.reason,
        valvesShut: true,
        gasOffOutside: input.gasOffOutside !== undefined,
      }
      await addEvent(tx, { viewer, role, context }, 'held', { data, deviceAt: input.deviceAt })
      return { permitId: input.permitId }
    }),
  )
}

/** The work is done: the torch is out for good and the watch runs. */
export async function endWork(viewer: Viewer, input: EndWorkInput): Promise<Done> {
  const { siteId } = await assertOnPermit(viewer, 'permit:end-work', input.permitId)
  const role = roleThen(viewer, 'permit:end-work', siteId)
  return inTransaction(viewer, 'permit:end-work', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:end-work', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      refuseUnless(mayEndWork(context.facts, context.now, context.now))
      await addEvent(tx, { viewer, role, context }, 'work_ended', {
        data: { valvesShut: true },
        deviceAt: input.deviceAt,
      })
      return { permitId: input.permitId }
    }),
  )
}

/** Nobody has worked under it and nobody will. */
export async function withdrawPermit(viewer: Viewer, input: WithdrawPermitInput): Promise<Done> {
  const { siteId } = await assertOnPermit(viewer, 'permit:withdraw', input.permitId)
  const role = roleThen(viewer, 'permit:withdraw', siteId)
  return inTransaction(viewer, 'permit:withdraw', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:withdraw', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      assertFresh(context, input.version)
      refuseUnless(mayWithdraw(context.facts))
      await addEvent(tx, { viewer, role, context }, 'withdrawn', {
        data: { reason: input.reason },
        deviceAt: input.deviceAt,
      })
      return { permitId: input.permitId }
    }),
  )
}

type GoOn = Readonly<{
  kind: 'resumed' | 'reopened'
  act: 'resume' | 'go_back'
  may: typeof mayResume
}>
const FROM_HOLD: GoOn = { kind: 'resumed', act: 'resume', may: mayResume }
const FROM_WATCH: GoOn = { kind: 'reopened', act: 'go_back', may: mayReopen }

async function resumeInput(
  tx: Tx,
  context: PermitContext,
  input: ResumePermitInput,
): Promise<ResumeInput> {
  const find = (id: string | null) => context.people.find((person) => person.id === id)
  const watching = context.facts.watchStints.findLast((stint) => stint.offAt === null)
  return {
    facts: context.facts,
    // The signature is this very act: the PIN is checked before anything is written.
    signature: { act: 'resume', personId: input.personId, signedAt: context.now },
    operator: find(context.facts.operatorId),
    pai: await readPersonFact(tx, context, input.personId),
    fireWatch: find(watching?.personId ?? context.facts.fireWatchId),
    day: context.day,
    now: context.now,
  }
}

/** What the new look found, by answer or on the drawing, that forbids the work as the survey would have. */
function foundReasons({ area, answers, evaluation }: PermitContext): Reason[] {
  const blocked = surveyReasons(area, answers).filter(({ code }) => code === 'survey_blocked')
  return [...blocked, ...ruleReasons(evaluation)]
}

async function goOn(viewer: Viewer, input: ResumePermitInput, how: GoOn): Promise<Done> {
  const { siteId } = await assertOnPermit(viewer, 'permit:resume', input.permitId)
  const { pin, ...rest } = input
  const submission = { key: input.key, action: `permit:${how.act}`, input: rest }
  const done = await doneBefore<Done>(db, viewer, submission)
  if (done) return done
  const before = await loadPermitContext(db, input.permitId)
  const notHis: Reason[] = await signerReasons(siteId, input.personId, 'pai')
  refuseUnless(how.may(await resumeInput(db, before, input)), [
    ...foundReasons(before),
    ...notHis,
    ...(await outfitReasons(db, before)),
  ])
  assertSeen(before, input.contentHash)
  await verifyPin(input.personId, pin)
  const role = roleThen(viewer, 'permit:resume', siteId)
  return inTransaction(viewer, 'permit:resume', (tx) =>
    once(tx, viewer, submission, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      assertFresh(context, input.version)
      refuseUnless(how.may(await resumeInput(tx, context, input)), [
        ...foundReasons(context),
        ...notHis,
        ...(await outfitReasons(tx, context)),
      ])
      await addSignature(tx, context, {
        act: how.act,
        role: 'pai',
        personId: input.personId,
        deviceAt: input.deviceAt,
        contentHash: input.contentHash,
      })
      await addEvent(tx, { viewer, role, context }, how.kind, {
        subjectId: input.personId,
        data: { decision: context.evaluation.decision },
        deviceAt: input.deviceAt,
      })
      return { permitId: input.permitId }
    }),
  )
}

/** Back to work from a hold, after a new look and with the PAI's PIN. */
export function resumePermit(viewer: Viewer, input: ResumePermitInput): Promise<Done> {
  return goOn(viewer, input, FROM_HOLD)
}

/** Back to work from the watch, while the permit still runs; a stopped one never. */
export function reopenPermit(viewer: Viewer, input: ResumePermitInput): Promise<Done> {
  return goOn(viewer, input, FROM_WATCH)
}

import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { requestId } from '@/lib/log'
import { mayStop } from '@/lib/permit/stop'
import type { PermitState } from '@/lib/permit/types'
import type { PostedStopInput, SmokeInput, StopInput } from '@/lib/schemas/watch'
import { db } from '../client'
import { hashOf, type Kept, once, resultOf } from '../client-keys'
import { assertOnPermit, refuseUnless } from '../permits/context'
import { roleThen } from '../role-then'
import { type Actor, inTransaction, SYSTEM, triedAgain } from '../tx'
import { addFact, type By, lockPermit, tellOfSmoke } from './event-facts'

/** What a press did, as the slab shows it. */
export type StopAnswer = {
  state: PermitState
  atMs: number
  watchMinutes: number | null
  watchUntilMs: number | null
  rang: { name: string; seenAtMs: number | null }[]
}

type Press = Readonly<{ permitId: string; by: By; step: StopInput['step'] }>

/** The permit to stop, asked before the press. What is stopped already answers the same once more. */
async function findStoppable(where: Readonly<{ id: string } | { stopCode: string }>) {
  const permit = await db.permit.findUnique({
    where,
    select: {
      id: true,
      siteId: true,
      state: true,
      stopPressedAt: true,
      stoppedAt: true,
      validUntil: true,
    },
  })
  if (!permit) throw new AppError('NOT_FOUND')
  const { id: permitId, siteId, stoppedAt } = permit
  const facts = { ...permit, state: permit.state as PermitState } // a CHECK holds the column to these
  return { permitId, siteId, refuse: () => stoppedAt === null && refuseUnless(mayStop(facts)) }
}

/**
 * The press in one statement, which is its transaction: two hundred may press in one second, and whoever does waits. The
 * database asks again under the permit's lock.
 */
async function press(
  actor: Actor,
  { permitId, by, step }: Press,
  claim: Readonly<{ key: string; inputHash: string }> | null,
): Promise<StopAnswer> {
  return triedAgain(async () => {
    const [row] = await db.$queryRaw<
      { said: { answer?: StopAnswer; kept?: Kept<StopAnswer> | null } }[]
    >`
      SELECT kerf_stop_work(${permitId}::uuid, ${by.personId}::uuid, ${actor.roles.join(',')}, ${requestId() ?? ''},
        ${by.roleThen}, ${by.deviceAt ?? null}::timestamptz, ${step}, ${[uuidv7(), uuidv7()]}::uuid[],
        ${claim?.key ?? null}, ${claim?.inputHash ?? null}) AS said`
    const { answer, kept } = row?.said ?? {}
    return answer ?? resultOf(kept, { action: 'work:stop', inputHash: claim?.inputHash ?? '' })
  })
}

/** Stop work, by anybody who may see the site at all. The first press holds at once, the second is for good. */
export async function stopWork(
  viewer: Viewer,
  permitId: string,
  { key, step, deviceAt }: StopInput,
): Promise<StopAnswer> {
  const found = await findStoppable({ id: permitId })
  assertCan(viewer, 'work:stop', found.siteId)
  found.refuse()
  const roleNow = roleThen(viewer, 'work:stop', found.siteId)
  const by = { personId: viewer.personId, roleThen: roleNow, deviceAt }
  return press(viewer, { permitId, by, step }, { key, inputHash: hashOf({ permitId, step }) })
}

/** The same by the posted code, for whoever stands there. It names nobody: the code hangs in the open. */
export async function stopByCode(code: string, { step }: PostedStopInput): Promise<StopAnswer> {
  const { permitId, refuse } = await findStoppable({ stopCode: code })
  refuse()
  const by = { personId: null, roleThen: 'posted_code' }
  return press(SYSTEM, { permitId, by, step }, null)
}

/** Smoke, glow or fire: rings who must know, and the watch starts over. Under an open permit it holds first. */
export async function reportSmoke(
  viewer: Viewer,
  permitId: string,
  input: SmokeInput,
): Promise<StopAnswer> {
  const { siteId } = await assertOnPermit(viewer, 'work:stop', permitId)
  const by = {
    personId: viewer.personId,
    roleThen: roleThen(viewer, 'work:stop', siteId),
    deviceAt: input.deviceAt,
  }
  return inTransaction(viewer, 'work:stop', (tx) =>
    once(tx, viewer, { key: input.key, action: 'work:smoke', input: { permitId } }, async () => {
      const found = await lockPermit(tx, permitId)
      if (found.state === 'open')
        await tx.$executeRaw`
          SELECT kerf_press_stop(${permitId}::uuid, ${by.personId}::uuid, ${by.roleThen},
            ${by.deviceAt ?? null}::timestamptz, 'hold', ${[uuidv7(), uuidv7()]}::uuid[])`
      const locked = await lockPermit(tx, permitId)
      const id = await addFact(tx, locked, by, smokeFact(locked.state))
      await tellOfSmoke(tx, locked, id)
      const [row] = await tx.$queryRaw<{ answer: StopAnswer }[]>`
        SELECT kerf_stop_answer(${permitId}::uuid, ${by.personId}::uuid)
          || jsonb_build_object('atMs', kerf_ms(kerf_now())) AS answer`
      if (!row) throw new AppError('NOT_FOUND')
      return row.answer
    }),
  )
}

/** Only where a torch has burnt is there a watch to start over; elsewhere the smoke itself is the fact. */
function smokeFact(state: PermitState) {
  const hasWatch = state === 'held' || state === 'watch'
  return hasWatch
    ? ({ kind: 'watch_restarted', data: { because: 'smoke' } } as const)
    : ({ kind: 'note', data: { smoke: true } } as const)
}

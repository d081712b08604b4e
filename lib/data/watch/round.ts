import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { mayRecordRound } from '@/lib/permit/after-work'
import type { RoundInput } from '@/lib/schemas/watch'
import { once } from '../client-keys'
import { assertOnPermit, loadPermitContext, refuseUnless } from '../permits/context'
import { roleThen } from '../role-then'
import { inTransaction, type Tx } from '../tx'
import { addFact, lockPermit, tellOfSmoke } from './event-facts'

export type RoundDone = { permitId: string; roundId: string; worst: string; lateMs: number }

async function addRound(
  tx: Tx,
  permitId: string,
  siteId: string,
  by: { personId: string; roleThen: string },
  input: RoundInput,
) {
  return tx.round.create({
    select: { id: true, worst: true, lateMs: true },
    data: {
      id: uuidv7(),
      siteId,
      permitId,
      ...by,
      // The area's posts are told apart by their names; the database asks for every one that was frozen.
      posts: input.posts.map(({ post, ...visit }) => ({ postId: post, name: post, ...visit })),
      worst: 'clear',
      deviceAt: input.deviceAt,
    },
  })
}

/** One round by who is on watch: every post answered. Smoke rings and starts the watch over. */
export async function recordRound(
  viewer: Viewer,
  permitId: string,
  input: RoundInput,
): Promise<RoundDone> {
  const { siteId } = await assertOnPermit(viewer, 'permit:round', permitId)
  const by = { personId: viewer.personId, roleThen: roleThen(viewer, 'permit:round', siteId) }
  const { deviceAt, ...rest } = input
  return inTransaction(viewer, 'permit:round', (tx) =>
    once(
      tx,
      viewer,
      { key: input.key, action: 'permit:round', input: { permitId, ...rest } },
      async () => {
        const locked = await lockPermit(tx, permitId)
        const context = await loadPermitContext(tx, permitId)
        const round = { personId: viewer.personId, posts: input.posts }
        refuseUnless(mayRecordRound({ facts: context.facts, round, now: context.now }))
        const { id, worst, lateMs } = await addRound(tx, permitId, siteId, by, input)
        await addFact(
          tx,
          locked,
          { ...by, deviceAt },
          { kind: 'round', subjectId: id, data: { worst, lateMs } },
        )
        if (worst === 'smoke') await tellOfSmoke(tx, locked, id)
        return { permitId, roundId: id, worst, lateMs }
      },
    ),
  )
}

import { afterEach, expect, test } from 'vitest'
import { db as appDb } from '@/lib/data/client'
import { loadPermitContext } from '@/lib/data/permits/context'
import { getWatch } from '@/lib/data/watch/view'
import { buildWatchPermit, buildWorksite } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { refusedFor, viewersOf } from './permit-world'
import { atMinute, scanRound } from './watch-world'

const db = () => testDatabase().owner
afterEach(() => atMinute(0))

const WORK = 'PK7W-2M4Q'
const BELOW = 'PX3H-9T8B'
const RIGHT = { 'At the work': { code: WORK }, Below: { code: 'px3h9t8b' } }

/** On watch from now, in an area whose two posts carry codes. */
async function codedWatch() {
  const worksite = await buildWorksite(db())
  const built = await buildWatchPermit(db(), {
    worksite,
    area: {
      ...worksite.site.area,
      posts: [
        { id: 'At the work', name: 'At the work', code: WORK },
        { id: 'Below', name: 'Below', code: BELOW },
      ],
    },
  })
  return { permitId: built.permit.id, fireWatch: viewersOf(built).fireWatch }
}

const progressInSql = async (permitId: string) => {
  const { rows } = await db().query<{ credit_ms: string; is_done: boolean }>(
    'SELECT credit_ms, done_at IS NOT NULL AS is_done FROM kerf_watch_progress($1, kerf_now())',
    [permitId],
  )
  return rows[0]
}

test('a round scanned at every post counts, and the code itself is not kept', async () => {
  const { permitId, fireWatch } = await codedWatch()
  await atMinute(9)
  await scanRound(fireWatch, permitId, RIGHT)
  const { rows } = await db().query<{ posts: unknown; due_at: Date | null }>(
    'SELECT posts, due_at FROM rounds WHERE permit_id = $1',
    [permitId],
  )
  expect(rows[0]?.due_at).not.toBeNull()
  expect(rows[0]?.posts).toEqual([
    { postId: 'At the work', name: 'At the work', answer: 'clear', scanned: true },
    { postId: 'Below', name: 'Below', answer: 'clear', scanned: true },
  ])
  const view = await getWatch(fireWatch, permitId)
  expect(view.facts.roundsMs).toHaveLength(1)
  expect(JSON.stringify(view)).not.toContain(WORK)
})

test('no code, and another post’s code, are refused', async () => {
  const { permitId, fireWatch } = await codedWatch()
  await atMinute(9)
  await expect(scanRound(fireWatch, permitId, { Below: { code: BELOW } })).rejects.toEqual(
    refusedFor('post_not_scanned'),
  )
  await expect(scanRound(fireWatch, permitId, { ...RIGHT, Below: { code: WORK } })).rejects.toEqual(
    refusedFor('post_code_wrong'),
  )
})

test('rounds that could not be scanned are kept with their reason and never end the watch, in both', async () => {
  const { permitId, fireWatch } = await codedWatch()
  for (const minute of [9, 19, 29, 39, 49, 59]) {
    await atMinute(minute)
    await scanRound(fireWatch, permitId, { ...RIGHT, Below: { unscanned: 'Label burnt' } })
  }
  await atMinute(61)
  const context = await loadPermitContext(appDb, permitId)
  expect(context.facts.rounds.at(-1)?.posts[1]).toEqual({
    post: 'Below',
    answer: 'clear',
    scanned: false,
    unscanned: 'Label burnt',
  })
  const inSql = await progressInSql(permitId)
  expect(context.watch).toMatchObject({ done: false, creditMs: Number(inSql?.credit_ms) })
  expect(inSql).toEqual({ credit_ms: '0', is_done: false })
})

import type { ClientBase } from 'pg'
import { clockSql, withSetClock } from './clock'
import { type ActorThen, actorSql, type Fact, factSql } from './facts'

const BATCH = 200
/** Tables that grow while they are read: without statistics the plans made for empty ones would stay. */
const ANALYZED =
  'permits, permit_events, signatures, rounds, clearance_answers, gas_tests, stints, permit_open_spans, hot_work_logs, cylinder_events, swaps, audit_entries, cuts, jobs'
const ANALYZE_AFTER: readonly number[] = [400, 2000, 8000]

const isSameActor = (a: ActorThen | null, b: ActorThen) =>
  a?.personId === b.personId && a.role === b.role && a.act === b.act

type Said = { atMs: number; by: ActorThen | null }

/** Clock and actor are said only where they change. */
function statementsOf(fact: Fact, said: Said): string[] {
  const clock = said.atMs === fact.atMs ? [] : [clockSql(fact.atMs)]
  const actor = isSameActor(said.by, fact.by) ? [] : [actorSql(fact.by)]
  said.atMs = fact.atMs
  said.by = fact.by
  return [...clock, ...actor, factSql(fact)]
}

/**
 * Plays facts in the order of their time, each at its own moment and by its own person, through every
 * trigger. All in one transaction: a seeding that fails leaves nothing behind.
 */
export async function playHistory(
  client: ClientBase,
  facts: readonly Fact[],
  report: (done: number) => void,
): Promise<void> {
  const inOrder = facts.toSorted((a, b) => a.atMs - b.atMs)
  await withSetClock(client, async () => {
    // The chains are written as it happens, at that moment's clock, not all at the end.
    await client.query('SET CONSTRAINTS audit, audit_change IMMEDIATE')
    const said: Said = { atMs: Number.NaN, by: null }
    for (let from = 0; from < inOrder.length; from += BATCH) {
      const batch = inOrder.slice(from, from + BATCH)
      await client.query(batch.flatMap((fact) => statementsOf(fact, said)).join(';\n'))
      if (ANALYZE_AFTER.some((count) => from < count && count <= from + BATCH))
        await client.query(`ANALYZE ${ANALYZED}`)
      report(from + batch.length)
    }
  })
}

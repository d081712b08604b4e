import type { Client } from 'pg'
import type { SeenStatement } from './counting-proxy'

interface PlanNode {
  'Node Type': string
  'Actual Rows'?: number
  'Actual Loops'?: number
  'Rows Removed by Filter'?: number
  'Rows Removed by Index Recheck'?: number
  Plans?: PlanNode[]
}

const READS_TABLE = /^(Seq Scan|Index Scan|Index Only Scan|Bitmap Heap Scan|Sample Scan|Tid Scan)/

/** Rows that the scans of a plan looked at, those that their filters then dropped included. */
function looked(node: PlanNode): number {
  const own = READS_TABLE.test(node['Node Type'])
    ? (node['Actual Loops'] ?? 0) *
      ((node['Actual Rows'] ?? 0) +
        (node['Rows Removed by Filter'] ?? 0) +
        (node['Rows Removed by Index Recheck'] ?? 0))
    : 0
  return (node.Plans ?? []).reduce((sum, child) => sum + looked(child), own)
}

/** Runs a statement again under EXPLAIN ANALYZE. Only for what reads: pages change nothing. */
export async function rowsTouched(client: Client, statement: SeenStatement): Promise<number> {
  if (!/^\s*(SELECT|WITH)\b/i.test(statement.text))
    throw new Error(`a page changed something: ${statement.text.slice(0, 80)}`)
  const { rows } = await client.query<{ 'QUERY PLAN': [{ Plan: PlanNode }] }>(
    `EXPLAIN (ANALYZE, TIMING OFF, FORMAT JSON) ${statement.text}`,
    statement.params,
  )
  const plan = rows[0]?.['QUERY PLAN'][0].Plan
  return plan ? Math.round(looked(plan)) : 0
}

// Compares the facts themselves with what their audit entries kept of them.

/** Only ever added, so each must be today what its entry says. */
const FACT_TABLES = [
  'area_drawings',
  'clearance_answers',
  'company_layers',
  'cylinder_events',
  'deliveries',
  'estimates',
  'evidence_files',
  'extinguisher_checks',
  'gas_instruments',
  'finding_decisions',
  'findings',
  'gas_tests',
  'hot_work_logs',
  'instrument_checks',
  'incident_events',
  'incidents',
  'local_rulesets',
  'order_lines',
  'outfit_events',
  'permit_events',
  'permit_people',
  'pictures',
  'rounds',
  'sign_ons',
  'signatures',
  'swaps',
  'work_outside_permit',
]
const SHOWN = 20

/**
 * Facts that differ from their entry, entries whose fact is gone, facts without an entry.
 * Bulk-loaded benchmark rows have no entries; `--chains-only` leaves this out.
 */
export async function verifyFacts(client) {
  const findings = []
  for (const table of FACT_TABLES) {
    const { rows } = await client.query(
      `WITH kept AS MATERIALIZED (
         SELECT DISTINCT ON (payload::jsonb #>> '{row,id}') (payload::jsonb #>> '{row,id}')::uuid AS id, payload::jsonb -> 'row' AS row, chain, seq
         FROM audit_entries WHERE table_name = $1 AND payload::jsonb ->> 'op' = 'INSERT')
       SELECT coalesce(fact.id, kept.id) AS id, kept.chain, kept.seq::int AS seq,
              CASE WHEN fact.id IS NULL THEN 'FACT_GONE' WHEN kept.id IS NULL THEN 'NO_ENTRY' ELSE 'FACT_ALTERED' END AS why
       FROM ${table} AS fact FULL JOIN kept ON kept.id = fact.id
       WHERE to_jsonb(fact) IS DISTINCT FROM kept.row
         -- A column that came later is empty in a fact that is older than it.
         AND (fact.id IS NULL OR kept.id IS NULL OR kept.row IS DISTINCT FROM (
           SELECT jsonb_object_agg(key, value) FROM jsonb_each(to_jsonb(fact)) WHERE value <> 'null' OR kept.row ? key))
       LIMIT ${SHOWN}`,
      [table],
    )
    findings.push(...rows.map((row) => ({ table, ...row })))
  }
  return findings
}

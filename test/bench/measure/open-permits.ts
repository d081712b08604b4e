import type pg from 'pg'
import { type BuiltPermit, buildOpenPermit } from '@/seed/builders/permits'

/** Rows that hang on a permit and are copied with it. */
const OF_A_PERMIT = [
  'clearance_answers',
  'gas_tests',
  'signatures',
  'stints',
  'permit_events',
  'permit_open_spans',
]

/** Copies rows t of a table, as they stand, with the ids of a copy c in them. */
const copyOf = (table: string, over: string, from: string) => `
  INSERT INTO ${table} SELECT copied.* FROM ${from}, LATERAL jsonb_populate_record(null::${table},
    replace(replace(replace(to_jsonb(t)::text, c.permit::text, c.new_permit::text), c.operator::text, c.new_operator::text), c.watch::text, c.new_watch::text)::jsonb
    || ${over}) AS copied`

const NEW_ID = `jsonb_build_object('id', gen_random_uuid())`

/**
 * So many open permits at so many sites, each with people of its own: one at each site is built through the
 * triggers, the rest are copies of its rows without them. As owner.
 */
export async function openPermits(
  owner: pg.Pool,
  wanted: Readonly<{ sites: number; permits: number }>,
): Promise<readonly BuiltPermit[]> {
  const built: BuiltPermit[] = []
  for (let site = 0; site < wanted.sites; site += 1)
    built.push(await buildOpenPermit(owner, { validForMin: 480 }))
  const client = await owner.connect()
  try {
    await client.query('SET session_replication_role = replica')
    await client.query(
      `CREATE TEMP TABLE copies AS
       SELECT p.id AS permit, p.operator_id AS operator, p.fire_watch_id AS watch, n,
              gen_random_uuid() AS new_permit, gen_random_uuid() AS new_operator, gen_random_uuid() AS new_watch
       FROM permits p, generate_series(1, $1::int) n`,
      [Math.ceil(wanted.permits / wanted.sites) - 1],
    )
    const people = `(SELECT permit, new_permit, operator, new_operator, watch, new_watch, operator AS was FROM copies
      UNION ALL SELECT permit, new_permit, operator, new_operator, watch, new_watch, watch FROM copies) AS c`
    const email = `jsonb_build_object('email', gen_random_uuid() || '@copy.example')`
    await client.query(copyOf('people', email, `${people} JOIN people t ON t.id = c.was`))
    for (const table of ['grants', 'qualifications'])
      await client.query(copyOf(table, NEW_ID, `${people} JOIN ${table} t ON t.person_id = c.was`))
    const numbers = `jsonb_build_object('number', t.number + c.n, 'stop_code', substr(md5(c.new_permit::text), 1, 12))`
    await client.query(copyOf('permits', numbers, 'copies c JOIN permits t ON t.id = c.permit'))
    for (const table of OF_A_PERMIT)
      await client.query(
        copyOf(table, NEW_ID, `copies c JOIN ${table} t ON t.permit_id = c.permit`),
      )
    await client.query('SET session_replication_role = DEFAULT; ANALYZE')
  } finally {
    client.release()
  }
  return built
}

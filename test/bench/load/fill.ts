import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import type { Client } from 'pg'
import { dropDatabase, templateDatabase, withClient } from '@/bin/lib/database.mjs'
import { insertReference } from '@/seed/reference'
import { keptEstimates } from './estimates'

/** The records end at this moment; whoever reads them moves the clock here. A working day, two in the afternoon. */
export const RECORDS_END = new Date('2026-03-18T18:00:00Z')

const HERE = import.meta.dirname
const STEPS = readdirSync(HERE)
  .filter((file) => file.endsWith('.sql'))
  .sort()

/** How many sites have gas, and how many cylinders each, with ten events a cylinder. */
export type LoadSize = Readonly<{ sites: number; cylindersASite: number }>
const WHOLE: LoadSize = { sites: 40, cylindersASite: 2_500 }
/** A hundredth of it, at sites that still fill a page. */
export const HUNDREDTH: LoadSize = { sites: 4, cylindersASite: 250 }

/** What a permit froze; no page that is measured reads more of it. */
const FROZEN = {
  duties: {
    posts: ['At the work', 'Below'],
    rules: {
      watch: 'nfpa51b-2019-fw-post-60',
      finalLook: null,
      monitoring: null,
      statement: null,
      cap: null,
    },
    layers: [{ id: 'us-nfpa51b-2019', version: 1 }],
    watchMin: 60,
    roundIntervalMin: 10,
  },
  impairments: [],
  posts: [],
}

/** Changes with the migrations that the template is named by, and with whatever fills it. */
function hashOfLoad(template: string, size: LoadSize): string {
  const hash = createHash('sha256').update(template)
  if (size !== WHOLE) hash.update(JSON.stringify(size))
  for (const file of readdirSync(HERE).sort())
    hash.update(file).update(readFileSync(path.join(HERE, file)))
  return hash.digest('hex').slice(0, 12)
}

async function insertEstimates(client: Client): Promise<void> {
  await client.query(
    `CREATE TEMP TABLE results (fuel text, calc_version text, inputs jsonb, result text, sources jsonb,
       oxygen_kg float8, oxygen_u_kg float8, fuel_kg float8, fuel_u_kg float8)`,
  )
  for (const kept of keptEstimates())
    await client.query('INSERT INTO results VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)', kept)
}

/** Takes the indexes off the largest table, and returns what makes them again: far quicker in one go. */
async function takeIndexes(client: Client): Promise<string[]> {
  const { rows } = await client.query<{ indexname: string; indexdef: string }>(
    `SELECT indexname, indexdef FROM pg_indexes WHERE tablename = 'cylinder_events' AND indexname <> 'cylinder_events_pkey'`,
  )
  for (const { indexname } of rows) await client.query(`DROP INDEX "${indexname}"`)
  return rows.map((row) => row.indexdef)
}

/** Bulk rows without triggers; primary keys, checks, unique and exclusion constraints hold as ever. */
async function fill(ownerUrl: string, size: LoadSize, say: (text: string) => void): Promise<void> {
  await withClient(ownerUrl, async (client) => {
    await insertReference(client)
    await client.query(
      `SELECT set_config('bench.now', $1, false), set_config('bench.frozen', $2, false),
              set_config('bench.sites', $3, false), set_config('bench.cylinders', $4, false)`,
      [
        RECORDS_END.toISOString(),
        JSON.stringify(FROZEN),
        String(size.sites),
        String(size.cylindersASite),
      ],
    )
    await client.query(
      `SET session_replication_role = replica; SET work_mem = '256MB'; SET statement_timeout = 0`,
    )
    await insertEstimates(client)
    const indexes = await takeIndexes(client)
    for (const step of STEPS) {
      const from = performance.now()
      await client.query(readFileSync(path.join(HERE, step), 'utf8'))
      say(`${step.slice(2, -4)}: ${((performance.now() - from) / 1000).toFixed(1)} s`)
    }
    // What triggers would have counted.
    await client.query('INSERT INTO site_stock SELECT * FROM site_stock_counted')
    await client.query('INSERT INTO emptied_days SELECT * FROM emptied_days_counted')
    for (const index of indexes) await client.query(index)
    await client.query('VACUUM ANALYZE')
  })
}

async function exists(serverUrl: string, name: string): Promise<boolean> {
  const { rowCount } = await withClient(serverUrl, (client) =>
    client.query('SELECT 1 FROM pg_database WHERE datname = $1', [name]),
  )
  return rowCount === 1
}

async function dropOthers(serverUrl: string, names: readonly string[]): Promise<void> {
  const { rows } = await withClient(serverUrl, (client) =>
    client.query<{ datname: string }>(
      `SELECT datname FROM pg_database WHERE datname LIKE 'kerfwatch_bench_%' AND datname <> ALL ($1)`,
      [names],
    ),
  )
  for (const { datname } of rows) await dropDatabase(serverUrl, datname)
}

/**
 * A database with 100,000 cylinders, 1,000,000 cylinder events and 10,000 permits, or with another
 * size's, by the owner's address. Filled once for each state of migrations and generator, and copied for each run.
 */
export async function loadedDatabase(
  { serverUrl, template }: Readonly<{ serverUrl: string; template: string }>,
  say: (text: string) => void,
  size: LoadSize = WHOLE,
): Promise<string> {
  const [name, ...others] = [size, WHOLE, HUNDREDTH].map(
    (one) => `kerfwatch_bench_${hashOfLoad(template, one)}`,
  ) as [string, ...string[]]
  if (!(await exists(serverUrl, name))) {
    await dropOthers(serverUrl, others)
    const unfinished = await templateDatabase(serverUrl, template, `${name}_unfinished`)
    await fill(unfinished, size, say)
    await withClient(serverUrl, (client) =>
      client.query(`ALTER DATABASE ${name}_unfinished RENAME TO ${name}`),
    )
  }
  const copy = `kerfwatch_test_${process.pid}_bench_${size.cylindersASite}`
  return templateDatabase(serverUrl, name, copy)
}

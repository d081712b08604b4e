import pg from 'pg'
import { withClient } from '@/bin/lib/database.mjs'
import { runtimeUrl } from '@/bin/lib/urls.mjs'
import { movedClockSql } from '@/lib/data/kerf-now'
import { loadedDatabase, RECORDS_END } from './load/fill'
import { LOG_WHAT_WAS_USED } from './measure/logged-work'

export const name = 'Gas audit of a company from the database, beside bare SQL'

const MOST_TIMES_BARE = 3
const MOST_GROWTH_MB = 600
const TURNS = 2
const MB = 1_048_576

interface Context {
  serverUrl: string
  template: string
  say: (text: string) => void
}
type Figure = Readonly<{ value: number; unit: string; aim: string; holds: boolean }>

const timed = async <T>(act: () => Promise<T>): Promise<{ ms: number; result: T }> => {
  const from = performance.now()
  const result = await act()
  return { ms: performance.now() - from, result }
}

/** What the audit needs, read and let go: every event of every cylinder, the work logged, and what each cut should take. */
const BARE = [
  `SELECT id, cylinder_id, kind, site_id, outfit_id, job_id, at, gauge_kpa, weight_kg, temperature_k, contents_kg, contents_u_kg, marked_empty, corrects_id
   FROM cylinder_events WHERE site_id = $1 ORDER BY cylinder_id, seq`,
  'SELECT id, size_id, tare_kg FROM cylinders WHERE site_id = $1',
  'SELECT outfit_id, job_id, cut_id, pieces, from_at, to_at, corrects_id FROM hot_work_logs WHERE site_id = $1 ORDER BY from_at, id',
  `SELECT job_id, oxygen_kg, oxygen_u_kg, fuel, fuel_kg, fuel_u_kg, kept_at, c ->> 'cutId', c ->> 'remainingCount', c -> 'oxygenKg' ->> 'value', c -> 'fuelKg' ->> 'value'
   FROM estimates CROSS JOIN LATERAL jsonb_array_elements(result -> 'cuts') AS c WHERE site_id = $1`,
]

async function readBare(client: pg.Client): Promise<number> {
  const { rows: sites } = await client.query<{ id: string }>('SELECT id FROM sites ORDER BY id')
  let read = 0
  for (const { id } of sites)
    for (const text of BARE) read += (await client.query(text, [id])).rows.length
  return read
}

export async function run({ serverUrl, template, say }: Context): Promise<Record<string, Figure>> {
  const ownerUrl = await loadedDatabase({ serverUrl, template }, say)
  await withClient(ownerUrl, async (client) => {
    await client.query(LOG_WHAT_WAS_USED)
    await client.query('VACUUM ANALYZE hot_work_logs, estimates')
    await client.query(movedClockSql(RECORDS_END.getTime() - Date.now()))
  })
  process.env.KERFWATCH_DATABASE_URL = runtimeUrl(ownerUrl)
  // The app's client opens what the environment names when it is loaded.
  const { askForLook, lookWhereAsked } = await import('@/lib/data/findings/run')
  const { db } = await import('@/lib/data/client')
  const client = new pg.Client({ connectionString: runtimeUrl(ownerUrl) })
  await client.connect()
  try {
    await readBare(client)
    const [oursMs, bareMs]: [number[], number[]] = [[], []]
    const before = process.memoryUsage().rss / MB
    let most = before
    const watching = setInterval(() => {
      most = Math.max(most, process.memoryUsage().rss / MB)
    }, 50)
    for (let turn = 0; turn < TURNS; turn += 1) {
      await askForLook(db, null)
      const ours = await timed(lookWhereAsked)
      if (ours.result !== 'done') throw new Error('nobody looked')
      oursMs.push(ours.ms)
      clearInterval(watching)
      bareMs.push((await timed(() => readBare(client))).ms)
      say(`looked in ${Math.round(ours.ms)} ms, read in ${Math.round(bareMs.at(-1) ?? 0)} ms`)
    }
    const { rows } = await client.query<{ failed: boolean; found: number; jobs: number }>(
      `SELECT failed, cardinality(found) AS found, (SELECT count(*)::int FROM job_figures WHERE run_id = r.id) AS jobs
       FROM audit_runs r ORDER BY finished_at DESC LIMIT 1`,
    )
    const [last] = rows
    if (!last || last.failed || last.jobs === 0) throw new Error('the look came to nothing')
    const [ours, bare] = [Math.min(...oursMs), Math.min(...bareMs)]
    const ratio = ours / bare
    return {
      [`Company audit of 1,000,000 events (${Math.round(ours)} ms; ${last.jobs} jobs' figures, ${last.found} findings): beside bare SQL (${Math.round(bare)} ms)`]:
        {
          value: Math.round(ratio * 100) / 100,
          unit: 'times',
          aim: `at most ${MOST_TIMES_BARE}`,
          holds: ratio <= MOST_TIMES_BARE,
        },
      'Company audit: memory it grows by, site by site': {
        value: Math.round(most - before),
        unit: 'MB',
        aim: `at most ${MOST_GROWTH_MB}`,
        holds: most - before <= MOST_GROWTH_MB,
      },
    }
  } finally {
    await client.end()
  }
}

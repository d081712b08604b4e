import { execFileSync } from 'node:child_process'
import { setTimeout as sleep } from 'node:timers/promises'
import { encode } from 'next-auth/jwt'
import pg from 'pg'
import { v7 as uuidv7 } from 'uuid'
import { runtimeUrl, SESSION_OPTIONS } from '@/bin/lib/urls.mjs'
import type { BuiltPermit } from '@/seed/builders/permits'
import { percentile } from './measure/interleave'
import { openScreen } from './measure/live-screens'
import { openPermits } from './measure/open-permits'

export const name = '500 live screens and 200 permit actions a second on 10,000 open permits'

const SITES = 20
const PERMITS = 10_000
const SCREENS = 500
const A_SECOND = 200
/** Bursts of a second each, of the app and of bare SQL in turn. */
const BURSTS = 4
const MOST_TIMES_SQL = 2.5
/** House figure: a hundred people's screens in 20 MB. */
const MOST_KB_A_SCREEN = 200
const QUIET_MS = 3_000

interface Context {
  ownerUrl: string
  startWeb: (ownerUrl: string) => Promise<{ url: string; stop: () => Promise<void>; pid: number }>
  secret: string
  say: (text: string) => void
}
type Figure = Readonly<{ value: number; unit: string; aim: string; holds: boolean }>
type Target = Readonly<{ permitId: string; operatorId: string; site: BuiltPermit; cookie: string }>
type Act = (target: Target) => Promise<void>

const figure = (value: number, unit: string, most: number): Figure => ({
  value: Math.round(value * 100) / 100,
  unit,
  aim: `at most ${most}`,
  holds: value <= most,
})

/** The cookie that signing in as this person would give. */
async function cookieOf(owner: pg.Pool, personId: string, secret: string): Promise<string> {
  const { rows } = await owner.query<{ epoch: number }>(
    'SELECT session_epoch AS epoch FROM people WHERE id = $1',
    [personId],
  )
  const [person] = rows
  if (!person) throw new Error('nobody of that id')
  const token = { personId, epoch: person.epoch }
  return `next-auth.session-token=${await encode({ token, secret, maxAge: 12 * 60 * 60 })}`
}

const residentKb = (pid: number) =>
  Number(execFileSync('ps', ['-o', 'rss=', '-p', String(pid)], { encoding: 'utf8' }))

/** "Stop work", pressed once: it holds the permit at once and rings its people. */
const byApp =
  (url: string): Act =>
  async ({ permitId, cookie }) => {
    const response = await fetch(`${url}/api/permits/${permitId}/stop`, {
      method: 'POST',
      headers: { cookie, origin: url, 'content-type': 'application/json' },
      body: JSON.stringify({ key: uuidv7(), step: 'hold' }),
    })
    const said = await response.text()
    if (response.status !== 200) throw new Error(`stop answered ${response.status}: ${said}`)
  }

/** The same rows as the app inserts for it, in one transaction, as the same role and under the same triggers. */
const bySql =
  (runtime: pg.Pool): Act =>
  async ({ permitId, site }) => {
    const client = await runtime.connect()
    const [eventId, key, person] = [uuidv7(), uuidv7(), site.team.foreman.id]
    const run = (name: string, text: string, values: readonly unknown[]) =>
      client.query({ name, text, values: [...values] })
    try {
      await client.query('BEGIN')
      await run(
        'actor',
        `SELECT set_config('kerf.actor_id', $1, true), set_config('kerf.actor_role', 'foreman', true), set_config('kerf.act', 'work:stop', true)`,
        [person],
      )
      await run(
        'claim',
        'INSERT INTO client_keys (person_id, key, action, input_hash) VALUES ($1, $2, $3, $4) ON CONFLICT DO NOTHING',
        [person, key, 'work:stop', key],
      )
      await run(
        'event',
        `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data) VALUES ($1, $2, $3, 'held', $4, 'foreman', '{"stop": true}')`,
        [eventId, site.site.id, permitId, person],
      )
      await run(
        'notices',
        `INSERT INTO notices (id, site_id, person_id, kind, subject_id, data, dedupe)
         SELECT gen_random_uuid(), $1, who.person_id, 'stop_pressed', $2, '{}', $3 || ':' || who.person_id
         FROM (SELECT operator_id AS person_id FROM permits WHERE id = $2
               UNION SELECT s.person_id FROM stints s WHERE s.permit_id = $2 AND s.to_at IS NULL
               UNION SELECT g.person_id FROM grants g WHERE g.site_id = $1 AND g.role IN ('pai', 'foreman') AND g.revoked_at IS NULL) AS who
         ON CONFLICT (dedupe) DO NOTHING`,
        [site.site.id, permitId, `stop:${eventId}`],
      )
      await run('result', 'UPDATE client_keys SET result = $1 WHERE person_id = $2 AND key = $3', [
        JSON.stringify({ permitId }),
        person,
        key,
      ])
      await client.query('COMMIT')
    } finally {
      client.release()
    }
  }

/** A second's worth, evenly begun whether the earlier ones are answered or not. Each time runs from its beginning. */
async function burst(targets: readonly Target[], act: Act): Promise<number[]> {
  const beganMs = performance.now()
  const timed = targets.map(async (target, nth) => {
    await sleep(Math.max(0, beganMs + (nth * 1_000) / A_SECOND - performance.now()))
    const fromMs = performance.now()
    await act(target)
    return performance.now() - fromMs
  })
  return Promise.all(timed)
}

/** What PostgreSQL itself says was committed at each site, beside the app's own listening. */
async function listenBeside(connectionString: string) {
  const client = new pg.Client({ connectionString })
  const committed = new Map<string, number>()
  const events = { count: 0 }
  client.on('notification', ({ payload }) => {
    const { siteId, table } = JSON.parse(payload ?? '{}') as { siteId: string; table: string }
    committed.set(siteId, (committed.get(siteId) ?? 0) + 1)
    if (table === 'permit_events') events.count += 1
  })
  await client.connect()
  await client.query('LISTEN kerfwatch')
  return { committed, events, stop: () => client.end() }
}

async function findTargets(owner: pg.Pool, sites: readonly BuiltPermit[], secret: string) {
  const { rows } = await owner.query<{ id: string; site_id: string; operator_id: string }>(
    "SELECT id, site_id, operator_id FROM permits WHERE state = 'open' ORDER BY number, site_id",
  )
  const bySite = new Map(
    await Promise.all(
      sites.map(
        async (site) =>
          [
            site.site.id,
            { site, cookie: await cookieOf(owner, site.team.foreman.id, secret) },
          ] as const,
      ),
    ),
  )
  return rows.flatMap((row): Target[] => {
    const at = bySite.get(row.site_id)
    return at ? [{ permitId: row.id, operatorId: row.operator_id, ...at }] : []
  })
}

export async function run(context: Context): Promise<Record<string, Figure>> {
  const pool = (connectionString: string, max: number) =>
    new pg.Pool({ connectionString, options: SESSION_OPTIONS, max })
  const owner = pool(context.ownerUrl, 4)
  const runtime = pool(runtimeUrl(context.ownerUrl), 12) // as many as a web process has
  const sites = await openPermits(owner, { sites: SITES, permits: PERMITS })
  const targets = await findTargets(owner, sites, context.secret)
  context.say(`${targets.length} open permits at ${sites.length} sites`)

  const web = await context.startWeb(context.ownerUrl)
  const beside = await listenBeside(context.ownerUrl)
  const [app, sql] = [byApp(web.url), bySql(runtime)]
  const next = () => targets.splice(0, A_SECOND)
  await burst(next().slice(0, 40), app) // warm, both
  await burst(next().slice(0, 40), sql)
  await sleep(QUIET_MS)

  const beforeKb = residentKb(web.pid)
  const screens = []
  for (let nth = 0; nth < SCREENS; nth += 1) {
    const site = sites[nth % sites.length]
    if (!site) throw new Error('no site')
    const cookie = await cookieOf(owner, site.team.pai.id, context.secret)
    screens.push({ siteId: site.site.id, screen: await openScreen(web.url, cookie) })
  }
  await sleep(QUIET_MS)
  const perScreenKb = (residentKb(web.pid) - beforeKb) / SCREENS
  context.say(`${SCREENS} screens are open`)
  beside.committed.clear()
  beside.events.count = 0
  const counted = async () =>
    Number((await owner.query('SELECT count(*) AS n FROM permit_events')).rows[0]?.n)
  const eventsBefore = await counted()

  const [appMs, sqlMs]: [number[], number[]] = [[], []]
  for (let turn = 0; turn < BURSTS; turn += 1) {
    const order = turn % 2 === 0 ? ([app, sql] as const) : ([sql, app] as const)
    for (const act of order) {
      ;(act === app ? appMs : sqlMs).push(...(await burst(next(), act)))
      await sleep(QUIET_MS / 3)
    }
  }
  await sleep(QUIET_MS)
  const written = (await counted()) - eventsBefore
  const off = screens.reduce(
    (sum, { siteId, screen }) =>
      sum + Math.abs(screen.told() - (beside.committed.get(siteId) ?? 0)),
    0,
  )
  const told = screens.reduce((sum, { screen }) => sum + screen.told(), 0)
  for (const { screen } of screens) screen.leave()
  await web.stop()
  await Promise.all([owner.end(), runtime.end(), beside.stop()])

  const [p95, sqlP95] = [percentile(appMs, 95), percentile(sqlMs, 95)]
  return {
    'an action: p95 beside bare SQL': figure(p95 / sqlP95, 'times', MOST_TIMES_SQL),
    'an action: p95': {
      ...figure(p95, 'ms', MOST_TIMES_SQL * sqlP95),
      aim: `2.5 × ${sqlP95.toFixed(1)} ms of bare SQL`,
    },
    'an action: middle beside bare SQL': figure(
      percentile(appMs, 50) / percentile(sqlMs, 50),
      'times',
      MOST_TIMES_SQL,
    ),
    'memory of a live screen': figure(perScreenKb, 'kB', MOST_KB_A_SCREEN),
    'told to all screens': { value: told, unit: 'changes', aim: 'some', holds: told > 0 },
    'lost or doubled on all screens': figure(off, 'changes', 0),
    'events committed but not notified': figure(
      Math.abs(written - beside.events.count),
      'events',
      0,
    ),
  }
}

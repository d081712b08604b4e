import { randomUUID } from 'node:crypto'
import pg from 'pg'
import { runtimeUrl } from '@/bin/lib/urls.mjs'
import type { Role } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { loadedDatabase } from './load/fill'
import { interleaved, percentile } from './measure/interleave'

export const name = 'The fleet with 100,000 cylinders and 1,000,000 events, beside bare SQL'

const TIMES = 40
const SWAPS = 20
const WARM_UP = 4
const MOST_TIMES_BARE = 2
const IMPORTED = 100_000
/** The most that memory may grow from the first tenth of an import to its end. */
const MOST_GROWTH_MB = 60
const MB = 1_048_576

interface Context {
  serverUrl: string
  template: string
  say: (text: string) => void
}
type Figure = Readonly<{ value: number; unit: string; aim: string; holds: boolean }>

const timed = async (act: () => Promise<unknown>) => {
  const from = performance.now()
  await act()
  return performance.now() - from
}
const tenth = (value: number) => Math.round(value * 10) / 10
const hundredth = (value: number) => Math.round(value * 100) / 100

/** Somebody with every role at the site that has most. */
async function viewerAt(client: pg.Client, siteId: string): Promise<Viewer> {
  const { rows } = await client.query<{ person_id: string }>(
    'SELECT person_id FROM grants WHERE site_id = $1 LIMIT 1',
    [siteId],
  )
  const roles: Role[] = ['foreman', 'yard_hand', 'shop_manager']
  return {
    personId: rows[0]?.person_id ?? '',
    name: 'Bench',
    grants: roles.map((role) => ({ siteId, role })),
    roles,
    units: 'us',
    clock: '24',
    theme: 'device',
  }
}

/** The app's way and the bare statement in turn; the middle of each, and their ratio. */
async function beside(
  what: string,
  ours: () => Promise<unknown>,
  bare: () => Promise<unknown>,
  times = TIMES,
): Promise<Record<string, Figure>> {
  for (let i = 0; i < WARM_UP; i += 1) {
    await ours()
    await bare()
  }
  const { fullMs, emptyMs } = await interleaved(
    times,
    () => timed(ours),
    () => timed(bare),
  )
  const [oursMs, bareMs] = [percentile(fullMs, 50), percentile(emptyMs, 50)]
  const ratio = oursMs / bareMs
  return {
    [`Fleet, ${what}: beside bare SQL (${tenth(oursMs)} ms beside ${tenth(bareMs)} ms)`]: {
      value: hundredth(ratio),
      unit: 'times',
      aim: `at most ${MOST_TIMES_BARE}`,
      holds: ratio <= MOST_TIMES_BARE,
    },
  }
}

const LIST = `SELECT c.id, c.serial, c.gas_id, c.status, c.contents_kg, c.contents_u_kg, c.last_reading_at, c.due_month, c.area_id, c.side,
  z.name, z.nominal_kg, z.water_volume_l, z.full_gauge_kpa, z.tare_kg, z.heel_kg, o.number, (SELECT kerf_now()) AS now, (SELECT zone FROM sites WHERE id = $1) AS zone
  FROM cylinders c JOIN cylinder_sizes z ON z.id = c.size_id LEFT JOIN outfits o ON o.id = c.outfit_id
  WHERE c.site_id = $1`

export async function run({ serverUrl, template, say }: Context) {
  const ownerUrl = await loadedDatabase({ serverUrl, template }, say)
  process.env.KERFWATCH_DATABASE_URL = runtimeUrl(ownerUrl)
  // The app's client opens what the environment names when it is loaded.
  const { listCylinders } = await import('@/lib/data/cylinders-list')
  const { listCylinderEvents } = await import('@/lib/data/cylinders-history')
  const { swapCylinder } = await import('@/lib/data/swaps')
  const { keepFleetFile } = await import('@/lib/data/fleet-import-file')
  const { takeImportBatch } = await import('@/lib/data/fleet-import')
  const { cylinderFilterSchema } = await import('@/lib/schemas/cylinder')
  const client = new pg.Client({ connectionString: runtimeUrl(ownerUrl) })
  await client.connect()
  try {
    const { rows: most } = await client.query<{ site_id: string }>(
      'SELECT site_id FROM site_stock GROUP BY site_id ORDER BY sum(cylinders) DESC LIMIT 1',
    )
    const siteId = most[0]?.site_id ?? ''
    const viewer = await viewerAt(client, siteId)
    const list = (filter: Record<string, string>) => () =>
      listCylinders(viewer, siteId, cylinderFilterSchema.parse(filter))
    const bare =
      (rest: string, values: readonly unknown[] = []) =>
      () =>
        client.query(`${LIST} ${rest} ORDER BY c.serial LIMIT 51`, [siteId, ...values])
    const { rows: ones } = await client.query<{ id: string; serial: string }>(
      'SELECT id, serial FROM cylinders WHERE site_id = $1 ORDER BY serial LIMIT 1 OFFSET 20',
      [siteId],
    )
    const one = ones[0] ?? { id: '', serial: '' }
    const figures = {
      ...(await beside('list', list({}), bare(''))),
      ...(await beside(
        'filter by gas and status',
        list({ gas: 'oxygen', status: 'full' }),
        bare(`AND c.gas_id = 'oxygen' AND c.status = 'full'`),
      )),
      ...(await beside(
        'search by part of a serial',
        list({ part: one.serial.slice(-4) }),
        bare('AND c.serial LIKE $2', [`%${one.serial.slice(-4)}%`]),
      )),
      ...(await beside(
        'history',
        () => listCylinderEvents(viewer, one.id, null),
        () =>
          client.query(
            `SELECT e.*, p.name, a.seq AS entry_seq, left(a.hash, 6) FROM cylinder_events e LEFT JOIN people p ON p.id = e.person_id
             LEFT JOIN audit_entries a ON a.table_name = 'cylinder_events' AND a.subject_id = e.cylinder_id::text AND a.payload::jsonb -> 'row' ->> 'id' = e.id::text
             WHERE e.cylinder_id = $1 ORDER BY e.seq DESC LIMIT 51`,
            [one.id],
          ),
      )),
    }
    const swaps = await measureSwaps(client, viewer, siteId, swapCylinder)
    const imported = await measureImport(viewer, siteId, say, keepFleetFile, takeImportBatch)
    return { ...figures, ...swaps, ...imported }
  } finally {
    await client.end()
  }
}

type Swap = typeof import('@/lib/data/swaps').swapCylinder
const READ = { kind: 'gauge', gaugePressureKpa: 9_000, temperatureK: 293.15 } as const

/** Two cylinders of one gas that take turns on one outfit. */
async function measureSwaps(client: pg.Client, viewer: Viewer, siteId: string, swap: Swap) {
  const { rows } = await client.query<{
    outfit_id: string
    on_id: string
    on_serial: string
    spare_id: string
    spare_serial: string
  }>(
    `SELECT c.outfit_id, c.id AS on_id, c.serial AS on_serial, s.id AS spare_id, s.serial AS spare_serial
     FROM cylinders c JOIN outfits o ON o.id = c.outfit_id AND o.state = 'in_service'
     JOIN LATERAL (SELECT x.id, x.serial FROM cylinders x WHERE x.site_id = c.site_id AND x.gas_id = c.gas_id AND x.status = 'full' LIMIT 1) s ON true
     WHERE c.site_id = $1 AND c.side = 'oxygen' LIMIT 1`,
    [siteId],
  )
  const pair = rows[0]
  if (!pair) throw new Error('no outfit has a spare at this site')
  const cylinders = [
    { id: pair.on_id, serial: pair.on_serial },
    { id: pair.spare_id, serial: pair.spare_serial },
  ]
  let hanging = 0
  const ends = () => {
    const [off, on] = [cylinders[hanging], cylinders[1 - hanging]]
    if (!off || !on) throw new Error('a pair has two')
    hanging = 1 - hanging
    return { off, on }
  }
  const ours = async () => {
    const { off, on } = ends()
    await swap(viewer, {
      key: randomUUID(),
      outfitId: pair.outfit_id,
      side: 'oxygen',
      place: 1,
      permitId: null,
      offCylinderId: off.id,
      markedEmpty: false,
      onSerial: on.serial,
      shutAndBled: true,
      leakTested: true,
      foundOn: false,
      reason: null,
      offReading: READ,
    })
  }
  const EVENT = `INSERT INTO cylinder_events (id, cylinder_id, kind, site_id, outfit_id, side, place, swap_id, person_id, role_then, gauge_kpa, temperature_k, contents_kg, contents_u_kg)
    VALUES ($1, $2, $3, $4, $5, 'oxygen', 1, $6, $7, 'foreman', $8, $9, $10, $11)`
  const bare = async () => {
    const { off, on } = ends()
    const swapId = randomUUID()
    const by = [siteId, pair.outfit_id, swapId, viewer.personId]
    await client.query('BEGIN')
    await client.query(
      `SELECT set_config('kerf.actor_id', $1, true), set_config('kerf.actor_role', 'foreman', true)`,
      [viewer.personId],
    )
    await client.query(
      `INSERT INTO swaps (id, site_id, outfit_id, side, off_cylinder_id, on_cylinder_id, person_id, role_then, shut_and_bled, leak_tested)
       VALUES ($1, $2, $3, 'oxygen', $4, $5, $6, 'foreman', true, true)`,
      [swapId, siteId, pair.outfit_id, off.id, on.id, viewer.personId],
    )
    await client.query(EVENT, [randomUUID(), off.id, 'taken_off', ...by, 9_000, 293.15, 5, 0.1])
    await client.query(EVENT, [randomUUID(), on.id, 'put_on', ...by, null, null, null, null])
    await client.query('COMMIT')
  }
  return beside('swap', ours, bare, SWAPS)
}

type Keep = typeof import('@/lib/data/fleet-import-file').keepFleetFile
type Take = typeof import('@/lib/data/fleet-import').takeImportBatch

/** A hundred thousand cylinders from one file, batch by batch; memory at the first tenth and at the end. */
async function measureImport(
  viewer: Viewer,
  siteId: string,
  say: (text: string) => void,
  keep: Keep,
  take: Take,
): Promise<Record<string, Figure>> {
  const lines = Array.from(
    { length: IMPORTED },
    (_, i) => `BENCH-${100_000 + i},O2,244,owned,full,2031-05`,
  )
  const bytes = new TextEncoder().encode(['Serial,Gas,Size,Owned,Status,Due', ...lines].join('\n'))
  const from = performance.now()
  const { importId } = await keep(viewer, {
    key: randomUUID(),
    siteId,
    fileName: 'fleet.csv',
    bytes,
  })
  const usedMb = () => {
    globalThis.gc?.()
    return process.memoryUsage().heapUsed / MB
  }
  let [early, most, done] = [0, 0, 0]
  for (let left = IMPORTED; left > 0; ) {
    const batch = await take(viewer, { key: randomUUID(), importId })
    left = batch.left
    done += batch.taken
    if (done >= IMPORTED / 10) {
      early ||= usedMb()
      most = Math.max(most, usedMb())
    }
    if (done % 20_000 === 0) say(`${done} taken in`)
  }
  const seconds = (performance.now() - from) / 1_000
  const growth = most - early
  return {
    [`Fleet, import of ${IMPORTED} cylinders (${Math.round(seconds)} s): memory it grows by after its first tenth`]:
      {
        value: Math.round(growth),
        unit: 'MB',
        aim: `at most ${MOST_GROWTH_MB}`,
        holds: done === IMPORTED && growth <= MOST_GROWTH_MB,
      },
  }
}

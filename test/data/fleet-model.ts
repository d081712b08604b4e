import { randomUUID } from 'node:crypto'
import type pg from 'pg'
import { verifyCylinders } from '../../bin/lib/verify-cylinders.mjs'

/** What a few people did at once: random events, most of them nonsense that the database refuses. */
export type Pools = Readonly<{ owner: pg.Pool; runtime: pg.Pool }>
export type Place = Readonly<{ siteId: string; areaId: string; outfitId: string }>
export type FleetWorld = Readonly<{ personIds: readonly string[]; places: readonly Place[] }>
export type Draw = () => number

const KINDS = [
  'received',
  'bought',
  'rented_in',
  'moved',
  'loaded',
  'unloaded',
  'read',
  'returned',
  'quarantined',
  'released',
  'sent_for_test',
  'requalified',
  'lost',
  'found',
  'scrapped',
  'filled',
  'corrected',
  'counted',
  'found_on',
  'taken_off',
  'swap',
] as const
type Kind = (typeof KINDS)[number]
const OFTEN: readonly Kind[] = [
  'received',
  'swap',
  'swap',
  'swap',
  'read',
  'moved',
  'loaded',
  'unloaded',
]

const NOMINAL_KG = { oxygen: 9.2, acetylene: 4.5 } as const
type Gas = keyof typeof NOMINAL_KG
export type ModelCylinder = Readonly<{ id: string; gas: Gas }>

const pick = <T>(draw: Draw, items: readonly T[]): T => {
  const item = items[Math.floor(draw() * items.length)]
  if (item === undefined) throw new Error('nothing to pick from')
  return item
}

async function insert(client: pg.ClientBase, table: string, row: Record<string, unknown>) {
  const names = Object.keys(row)
  await client.query(
    `INSERT INTO ${table} (${names.join(',')}) VALUES (${names.map((_, i) => `$${i + 1}`).join(',')})`,
    Object.values(row),
  )
}

/** Two sites with an area and an outfit each, three people with a role at both. */
export async function newFleetWorld(owner: pg.Pool): Promise<FleetWorld> {
  const client = await owner.connect()
  try {
    for (const [gas, nominal] of Object.entries(NOMINAL_KG)) {
      const side = gas === 'oxygen' ? 'oxygen' : 'fuel'
      await client.query(
        `INSERT INTO gases (id, name, side) VALUES ($1, $1, $2) ON CONFLICT DO NOTHING`,
        [gas, side],
      )
      await client.query(
        `INSERT INTO cylinder_sizes (id, gas_id, name, nominal_kg, heel_kg, source) VALUES ($1, $2, $1, $3, 0.3, 'test') ON CONFLICT DO NOTHING`,
        [`model-${gas}`, gas, nominal],
      )
    }
    const places: Place[] = []
    for (const _ of [1, 2]) {
      const [siteId, areaId, outfitId] = [randomUUID(), randomUUID(), randomUUID()]
      const words = { kind: 'yard', zone: 'America/Chicago', address: 'a', emergency_words: 'e' }
      await insert(client, 'sites', { id: siteId, name: siteId, short_name: 'S', ...words })
      const area = { facts: '{}', posts: '[]', area_class: 'permit', name: 'Bay' }
      await insert(client, 'areas', { id: areaId, site_id: siteId, ...area })
      const outfit = { site_id: siteId, number: outfitId, fuel_gas_id: 'acetylene' }
      await insert(client, 'outfits', { id: outfitId, ...outfit })
      places.push({ siteId, areaId, outfitId })
    }
    const personIds = [randomUUID(), randomUUID(), randomUUID()]
    for (const id of personIds)
      await insert(client, 'people', {
        id,
        name: id,
        email: `${id}@test.invalid`,
        password_hash: '-',
      })
    return { personIds, places }
  } finally {
    client.release()
  }
}

/** Fields that fit a kind about half the time. */
function fieldsOf(draw: Draw, kind: Kind, world: FleetWorld, at: Place): Record<string, unknown> {
  const other = pick(draw, world.places)
  const some = <T>(value: T) => (draw() < 0.5 ? value : null)
  const kg = Math.round(draw() * 1200) / 100
  const outfit = { outfit_id: at.outfitId, side: pick(draw, ['oxygen', 'fuel']), place: 1 }
  const of: Partial<Record<Kind, Record<string, unknown>>> = {
    received: { marked_empty: draw() < 0.2, area_id: some(at.areaId), contents_kg: some(kg) },
    bought: { marked_empty: draw() < 0.2, condition: draw() < 0.1 ? 'dent' : null },
    moved: { to_site_id: some(other.siteId), area_id: some(other.areaId) },
    loaded: { to_site_id: other.siteId },
    unloaded: { area_id: some(at.areaId) },
    read: draw() < 0.2 ? { marked_empty: true } : { contents_kg: kg, contents_u_kg: 0.2 },
    quarantined: { reason: 'hisses', condition: draw() < 0.3 ? 'heat_damage' : null },
    requalified: {
      requalified_on: '2026-02-03',
      due_month: pick(draw, ['2031-02-01', '2036-02-01']),
    },
    lost: { reason: 'gone' },
    found: { area_id: some(at.areaId) },
    scrapped: { reason: 'cut' },
    filled: { filled_on: '2026-04-01', batch: 'B1' },
    counted: { area_id: some(at.areaId) },
    found_on: { ...outfit, reason: 'nobody wrote it down' },
    taken_off: { ...outfit, marked_empty: draw() < 0.5 },
  }
  return of[kind] ?? {}
}

async function act(
  client: pg.PoolClient,
  draw: Draw,
  world: FleetWorld,
  all: readonly ModelCylinder[],
) {
  const kind = draw() < 0.45 ? pick(draw, OFTEN) : pick(draw, KINDS)
  const at = pick(draw, world.places)
  const personId = pick(draw, world.personIds)
  const by = { site_id: at.siteId, person_id: personId, role_then: 'yard_hand' }
  const cylinder = pick(draw, all)
  await client.query(
    `SELECT set_config('kerf.actor_id', $1, true), set_config('kerf.actor_role', 'test', true)`,
    [personId],
  )
  const event = (cylinderId: string, of: string, fields: Record<string, unknown>) =>
    insert(client, 'cylinder_events', {
      id: randomUUID(),
      cylinder_id: cylinderId,
      kind: of,
      ...by,
      ...fields,
    })
  if (kind === 'corrected') {
    const { rows } = await client.query(
      'SELECT id FROM cylinder_events WHERE cylinder_id = $1 ORDER BY seq DESC LIMIT 1',
      [cylinder.id],
    )
    return event(cylinder.id, kind, {
      corrects_id: rows[0]?.id ?? null,
      contents_kg: 1,
      contents_u_kg: 1,
    })
  }
  if (kind !== 'swap') return event(cylinder.id, kind, fieldsOf(draw, kind, world, at))
  const side = cylinder.gas === 'oxygen' || draw() < 0.1 ? 'oxygen' : 'fuel'
  const { rows } = await client.query(
    'SELECT id FROM cylinders WHERE outfit_id = $1 AND side = $2',
    [at.outfitId, side],
  )
  const off: string | null = rows[0]?.id ?? null
  const swapId = randomUUID()
  await insert(client, 'swaps', {
    id: swapId,
    ...by,
    outfit_id: at.outfitId,
    side,
    off_cylinder_id: off,
    on_cylinder_id: cylinder.id,
    shut_and_bled: true,
    leak_tested: true,
  })
  const where = { swap_id: swapId, outfit_id: at.outfitId, side, place: 1 }
  if (off) await event(off, 'taken_off', { ...where, marked_empty: draw() < 0.5 })
  await event(cylinder.id, 'put_on', where)
}

const EXPECTED = new Set(['KW001', '23505', '23514', '40P01'])

/** One history: so many steps, done by as many people at once as there are. */
export async function playHistory(pools: Pools, draw: Draw, world: FleetWorld, steps: number) {
  const all: ModelCylinder[] = (['oxygen', 'oxygen', 'acetylene'] as const).map((gas) => ({
    id: randomUUID(),
    gas,
  }))
  for (const { id, gas } of all)
    await pools.owner.query(
      `INSERT INTO cylinders (id, serial, gas_id, size_id, spec) VALUES ($1::uuid, $2, $3, $4, 'DOT 3AA')`,
      [id, id, gas, `model-${gas}`],
    )
  let left = steps
  let accepted = 0
  const person = async () => {
    while (left > 0) {
      left -= 1
      const client = await pools.runtime.connect()
      try {
        await client.query('BEGIN')
        await act(client, draw, world, all)
        await client.query('COMMIT')
        accepted += 1
      } catch (error) {
        await client.query('ROLLBACK')
        const { code = '' } = error as { code?: string }
        if (!EXPECTED.has(code)) throw error
      } finally {
        client.release()
      }
    }
  }
  await Promise.all(world.personIds.map(person))
  return { all, accepted }
}

type EventRow = Readonly<{
  kind: string
  site_id: string
  to_site_id: string | null
  outfit_id: string | null
  contents_kg: number | null
  marked_empty: boolean
}>
type Model = { site: string | null; outfit: string | null; gasKg: number | null; isGone: boolean }

const COMES = new Set(['received', 'bought', 'rented_in'])
const TELLS = new Set([...COMES, 'filled', 'read', 'corrected'])
const LEAVES = new Set(['returned', 'sent_for_test', 'lost', 'scrapped'])

/** What each event must leave true, told apart from the database's own derivation. */
function stepModel(m: Model, e: EventRow, gas: Gas): string[] {
  const wrong: string[] = []
  const say = (text: string) => wrong.push(`${e.kind}: ${text}`)
  if (m.isGone) say('happened to a scrapped cylinder')
  if (m.outfit && ['put_on', 'moved', 'loaded', 'returned'].includes(e.kind))
    say('while on an outfit')
  if (COMES.has(e.kind) && m.site) say('came while it was at a site')
  if (['moved', 'loaded', 'put_on', 'returned'].includes(e.kind) && m.site !== e.site_id)
    say('at a site where it is not')
  if (e.kind === 'taken_off' && m.outfit !== e.outfit_id) say('off an outfit it is not on')
  if (e.kind === 'put_on' || e.kind === 'found_on') m.outfit = e.outfit_id
  if (e.kind === 'taken_off' || e.kind === 'lost') m.outfit = null
  if (COMES.has(e.kind) || ['unloaded', 'found', 'found_on'].includes(e.kind)) m.site = e.site_id
  if (e.kind === 'moved' && e.to_site_id) m.site = e.to_site_id
  if (LEAVES.has(e.kind)) m.site = null
  m.isGone = e.kind === 'scrapped'
  const before = m.gasKg
  if (e.contents_kg !== null) m.gasKg = e.contents_kg
  else if (e.marked_empty) m.gasKg = Math.min(before ?? Number.POSITIVE_INFINITY, 0.3)
  else if (COMES.has(e.kind) || e.kind === 'filled') m.gasKg = NOMINAL_KG[gas]
  if (
    (m.gasKg ?? 0) > (before ?? 0) &&
    !TELLS.has(e.kind) &&
    e.contents_kg === null &&
    !(before === null && e.marked_empty)
  )
    say('made gas')
  return wrong
}

/** Everything that a history left wrong; empty when nothing. */
export async function checkHistory(
  owner: pg.Pool,
  all: readonly ModelCylinder[],
): Promise<string[]> {
  const wrong: string[] = []
  for (const { id, gas } of all) {
    const { rows } = await owner.query<EventRow>(
      'SELECT kind, site_id, to_site_id, outfit_id, contents_kg, marked_empty FROM cylinder_events WHERE cylinder_id = $1 ORDER BY seq',
      [id],
    )
    const model: Model = { site: null, outfit: null, gasKg: null, isGone: false }
    for (const event of rows) wrong.push(...stepModel(model, event, gas))
    const kept = await owner.query(
      'SELECT site_id, outfit_id, contents_kg, status FROM cylinders WHERE id = $1',
      [id],
    )
    const state = kept.rows[0]
    if (state.site_id !== model.site) wrong.push(`${id} is at ${state.site_id}, not ${model.site}`)
    if (state.outfit_id !== model.outfit) wrong.push(`${id} is on ${state.outfit_id}`)
    if (state.contents_kg !== model.gasKg)
      wrong.push(`${id} holds ${state.contents_kg}, not ${model.gasKg}`)
  }
  const shared = await owner.query(
    'SELECT outfit_id FROM cylinders WHERE outfit_id IS NOT NULL GROUP BY outfit_id, side, place HAVING count(*) > 1',
  )
  if (shared.rows.length > 0) wrong.push('two cylinders hang at one place')
  return wrong
}

/** The state kept is the state rebuilt, by the database and by `verify`; the counts are those of the rows. */
export async function checkRebuilt(owner: pg.Pool): Promise<string[]> {
  const client = await owner.connect()
  try {
    await client.query('BEGIN')
    const { findings } = await verifyCylinders(client)
    const read = () => client.query(`SELECT to_jsonb(c) AS row FROM cylinders c ORDER BY id`)
    const before = await read()
    await client.query('SELECT kerf_rebuild_cylinders()')
    const after = await read()
    await client.query('ROLLBACK')
    const counts = await client.query(
      `(SELECT site_id, size_id, status, cylinders, round(contents_kg, 6) FROM site_stock WHERE cylinders > 0
        EXCEPT SELECT site_id, size_id, status, cylinders, round(contents_kg, 6) FROM site_stock_counted)`,
    )
    return [
      ...findings.map(({ serial, columns }) => `verify: ${serial} ${columns.join(', ')}`),
      ...(JSON.stringify(before.rows) === JSON.stringify(after.rows) ? [] : ['rebuilt otherwise']),
      ...(counts.rows.length > 0 ? ['the stock is counted otherwise'] : []),
    ]
  } finally {
    client.release()
  }
}

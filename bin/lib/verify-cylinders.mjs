// Replays every cylinder from its events, written apart from the database's own function, and
// compares with the state that is kept.
import { inBatches } from './verify-read.mjs'

const FULL_FROM_SHARE = 0.9
const COMPARED = [
  'site_id',
  'area_id',
  'outfit_id',
  'side',
  'place',
  'status',
  'contents_kg',
  'contents_u_kg',
  'last_reading_at',
  'arrived_at',
  'last_seq',
  'filled_on',
  'condition',
  'batch',
  // Said when the cylinder was entered; the record's own from the first event that says it.
  'requalified_on',
  'due_month',
  'test_method',
  'is_starred',
  'ownership',
]
const OFF_OUTFIT = { outfit_id: null, side: null, place: null }
const GONE = { site_id: null, area_id: null, arrived_at: null }

const newCylinder = () => ({
  ...OFF_OUTFIT,
  ...GONE,
  status: 'new',
  contents_kg: null,
  contents_u_kg: null,
  last_reading_at: null,
  last_seq: 0,
  filled_on: null,
  condition: 'sound',
  batch: null,
  hungWrong: false,
})

function fillStatus(contentsKg, size) {
  if (contentsKg === null || contentsKg >= FULL_FROM_SHARE * size.nominal_kg) return 'full'
  return contentsKg <= size.heel_kg ? 'empty' : 'partial'
}

/** What a reading or a mark tells about the contents. */
function withReading(c, e, size) {
  if (e.marked_empty)
    return {
      ...c,
      contents_kg:
        e.contents_kg ?? Math.min(size.heel_kg, c.contents_kg ?? Number.POSITIVE_INFINITY),
      contents_u_kg: e.contents_u_kg ?? size.heel_kg,
      last_reading_at: e.at,
    }
  if (e.contents_kg === null) return c
  return { ...c, contents_kg: e.contents_kg, contents_u_kg: e.contents_u_kg, last_reading_at: e.at }
}

const seen = (c, e, size) => (e.marked_empty ? 'empty' : fillStatus(c.contents_kg, size))
const arrive = (c, e, size) => ({
  ...c,
  site_id: e.site_id,
  area_id: e.area_id,
  arrived_at: e.at,
  status: fillStatus(c.contents_kg, size),
})
const hang = (c, e) => ({
  ...c,
  status: 'in_use',
  outfit_id: e.outfit_id,
  side: e.side,
  place: e.place,
  area_id: null,
})
const isLoose = (c) => ['full', 'partial', 'empty'].includes(c.status)
const look = (c, e, size) => (isLoose(c) ? { ...c, status: seen(c, e, size) } : c)

function comesIn(c, e, size) {
  const isTakenAsFull = !e.marked_empty && e.contents_kg === null
  const filled = isTakenAsFull
    ? { ...c, contents_kg: size.nominal_kg, contents_u_kg: null, last_reading_at: null }
    : c
  return {
    ...filled,
    site_id: e.site_id,
    area_id: e.area_id,
    arrived_at: e.at,
    filled_on: e.filled_on ?? c.filled_on,
    status: seen(filled, e, size),
  }
}

const FOLLOWS = {
  received: comesIn,
  bought: (c, e, size) => ({ ...comesIn(c, e, size), ownership: 'owned' }),
  rented_in: (c, e, size) => ({ ...comesIn(c, e, size), ownership: 'rented' }),
  moved: (c, e) => {
    const isAway = e.to_site_id !== null && e.to_site_id !== c.site_id
    return {
      ...c,
      area_id: e.area_id,
      ...(isAway ? { site_id: e.to_site_id, arrived_at: e.at } : {}),
    }
  },
  loaded: (c) => ({ ...c, status: 'in_transit', area_id: null }),
  unloaded: arrive,
  found: arrive,
  put_on: (c, e) => ({ ...hang(c, e), hungWrong: false }),
  found_on: (c, e) => ({
    ...hang(c, e),
    ...(c.site_id === e.site_id ? {} : { site_id: e.site_id, arrived_at: e.at }),
    hungWrong: true,
  }),
  taken_off: (c, e, size) => ({
    ...c,
    ...OFF_OUTFIT,
    area_id: e.area_id,
    status: c.hungWrong ? 'quarantined' : seen(c, e, size),
  }),
  quarantined: (c) => ({ ...c, status: 'quarantined' }),
  released: (c, _e, size) => ({ ...c, status: fillStatus(c.contents_kg, size) }),
  read: look,
  corrected: look,
  requalified: (c, e) => ({
    ...c,
    requalified_on: e.requalified_on,
    due_month: e.due_month,
    condition: 'sound',
    test_method: e.test_method ?? c.test_method,
    is_starred: e.is_starred ?? c.is_starred,
  }),
  counted: (c, e) => (c.status === 'in_use' ? c : { ...c, area_id: e.area_id }),
  filled: (c, e, size) => ({
    ...c,
    filled_on: e.filled_on,
    contents_kg: e.contents_kg ?? size.nominal_kg,
    status: ['partial', 'empty'].includes(c.status) ? 'full' : c.status,
  }),
  returned: (c) => ({ ...c, ...GONE, status: 'returned' }),
  sent_for_test: (c) => ({ ...c, ...GONE, status: 'at_test' }),
  lost: (c) => ({ ...c, ...GONE, ...OFF_OUTFIT, status: 'lost' }),
  scrapped: (c) => ({ ...c, ...GONE, status: 'scrapped' }),
}

/** The cylinder after one more event. */
function afterEvent(cylinder, event, size) {
  const read = {
    ...withReading(cylinder, event, size),
    last_seq: event.seq,
    condition: event.condition ?? cylinder.condition,
    batch: event.batch ?? cylinder.batch,
  }
  const after = FOLLOWS[event.kind](read, event, size)
  return after.condition !== 'sound' && isLoose(after) ? { ...after, status: 'quarantined' } : after
}

const plain = (value) => (value instanceof Date ? value.getTime() : value)

function differences(kept, replayed) {
  return COMPARED.filter(
    (column) => replayed[column] !== undefined && plain(kept[column]) !== plain(replayed[column]),
  )
}

async function keptCylinders(client) {
  const { rows } = await client.query(
    `SELECT c.id, c.serial, ${COMPARED.map((column) => `c.${column}`).join(', ')}, s.nominal_kg * c.holds AS nominal_kg, s.heel_kg * c.holds AS heel_kg
     FROM cylinders c JOIN cylinder_sizes s ON s.id = c.size_id`,
  )
  return new Map(rows.map((row) => [row.id, row]))
}

/** Cylinders whose kept state is not what their events make of them. */
export async function verifyCylinders(client) {
  const kept = await keptCylinders(client)
  const replayed = new Map()
  const gaps = new Set()
  const sql = `SELECT cylinder_id, seq, kind, site_id, to_site_id, area_id, outfit_id, side, place, at, contents_kg, contents_u_kg, marked_empty,
                      filled_on, requalified_on, due_month, test_method, is_starred, condition, batch
               FROM cylinder_events ORDER BY cylinder_id, seq`
  for await (const event of inBatches(client, sql)) {
    const size = kept.get(event.cylinder_id)
    const before = replayed.get(event.cylinder_id) ?? newCylinder()
    if (event.seq !== before.last_seq + 1) gaps.add(event.cylinder_id)
    replayed.set(event.cylinder_id, afterEvent(before, event, size))
  }
  const findings = [...kept.values()].flatMap((row) => {
    const columns = differences(row, replayed.get(row.id) ?? newCylinder())
    if (gaps.has(row.id)) columns.push('event missing')
    return columns.length > 0 ? [{ id: row.id, serial: row.serial, columns }] : []
  })
  return { cylinders: kept.size, findings }
}

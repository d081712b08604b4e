import { namedUuid } from '../ids'
import { type CylinderEvent, writeCylinderEvents } from '../records/cylinder'
import { type Doing, writeRow } from '../records/scribe'
import { sizeOf } from '../reference'
import { addDays, atLocal, localDay, weekdayOf } from '../zones'
import { draw, swapSide } from './gas-use'
import { SITES, siteOf } from './places'
import { airTemperatureK, observe, observedColumns } from './readings'
import { fullAt, keeperOf } from './stock'
import { areaId, personId, type Rig, type World } from './world'

const HOUR = 3_600_000
const YARD_ZONE = 'America/New_York'

const shopJobId = (world: World) => namedUuid('job/shop', world.startMs)

/** The shop's own small work, in the designated bay, the year round. */
export function writeShopJob(world: World): void {
  const doing: Doing = {
    atMs: world.startMs + 2 * HOUR,
    personId: personId(world, 'jo'),
    role: 'shop_manager',
  }
  const day = localDay(YARD_ZONE, world.startMs)
  writeRow(world.scribe, doing, 'job:write', 'jobs', {
    id: shopJobId(world),
    site_id: world.siteIds.yard,
    number: '0300',
    title: 'Shop work',
    planned_start: day,
    planned_end: addDays(day, 500),
    state: 'running',
    created_by: doing.personId,
  })
}

const otis = (world: World, atMs: number, role: Doing['role']): Doing => ({
  atMs,
  personId: personId(world, 'otis'),
  role,
})

/** An hour at the bench: logged without a permit, since the bay is designated. */
export function workInShop(world: World, fromMs: number): void {
  const rig = world.rigs.find((candidate): candidate is Rig => candidate.site === 'yard')
  if (!rig) return
  const temperatureK = airTemperatureK(YARD_ZONE, localDay(YARD_ZONE, fromMs), world.chance)
  const drawing = {
    rig,
    job: null,
    permitId: null,
    temperatureK,
    doing: otis(world, fromMs, 'operator'),
  }
  for (const side of ['oxygen', 'fuel'] as const) if (!rig.on[side]) swapSide(world, side, drawing)
  const toMs = fromMs + HOUR
  const atMs = (share: number) => Math.round(fromMs + (0.1 + 0.8 * share) * HOUR)
  draw(world, 'oxygen', world.chance.between(0.4, 0.9), { from: drawing, atMs })
  draw(world, 'fuel', world.chance.between(0.03, 0.06), {
    from: drawing,
    atMs: (share) => atMs(share) + 30_000,
  })
  writeRow(
    world.scribe,
    otis(world, toMs + 4 * 60_000, 'operator'),
    'permit:log',
    'hot_work_logs',
    {
      id: world.scribe.newId(toMs),
      site_id: world.siteIds.yard,
      job_id: shopJobId(world),
      area_id: areaId(world, 'yard', 'bay-1'),
      operator_id: personId(world, 'otis'),
      outfit_id: rig.id,
      from_at: new Date(fromMs),
      to_at: new Date(toMs),
      person_id: personId(world, 'otis'),
      role_then: 'operator',
      note: world.chance.pick(['Brackets', 'Freed seized bolts', 'Test pieces', 'Lifting lugs']),
    },
  )
}

/** Two full ones over the road to the mill: loaded by the yard hand, taken off by the foreman. */
function sendToMill(world: World, day: string): void {
  const two = fullAt(world, 'yard', 'oxygen-244').slice(-2)
  if (two.length < 2) return
  const { yard, mill } = world.siteIds
  const loadedMs = atLocal(YARD_ZONE, day, 17 * 60)
  const columns = { to_site_id: mill }
  writeCylinderEvents(
    world.scribe,
    otis(world, loadedMs, 'yard_hand'),
    two.map((bottle) => ({ kind: 'loaded', cylinderId: bottle.id, siteId: yard, columns })),
  )
  const dana: Doing = {
    atMs: loadedMs + 80 * 60_000,
    personId: personId(world, 'dana'),
    role: 'yard_hand',
  }
  writeCylinderEvents(
    world.scribe,
    dana,
    two.map((bottle) => ({ kind: 'unloaded', cylinderId: bottle.id, siteId: mill })),
  )
  for (const bottle of two) {
    bottle.site = 'mill'
    bottle.arrivedMs = dana.atMs
  }
}

/** What goes on at the yard besides deliveries. */
export function tendYard(world: World, day: string, offset: number): void {
  if (weekdayOf(day) === 2 && offset % 2 === 0)
    workInShop(world, atLocal(YARD_ZONE, day, 13 * 60 + 10))
  if (offset % 45 === 0 && offset < -45) sendToMill(world, day)
}

const READ_AT_MOST = 4

/** On Fridays the keeper of each site reads what stands longest in the rack. */
export function takeStock(world: World, day: string): void {
  for (const { key } of SITES) {
    const { zone } = siteOf(key)
    const standing = world.bottles
      .filter((bottle) => bottle.site === key && bottle.rig === null && bottle.believed !== 'empty')
      .sort((a, b) => a.arrivedMs - b.arrivedMs || a.serial.localeCompare(b.serial))
      .slice(0, READ_AT_MOST)
    const temperatureK = airTemperatureK(zone, day, world.chance)
    const doing: Doing = {
      atMs: atLocal(zone, day, 18 * 60 + 40),
      personId: personId(world, keeperOf(key).key),
      role: 'yard_hand',
    }
    const events = standing.map((bottle): CylinderEvent => {
      const observed = observe(bottle, { temperatureK, byGauge: key === 'viaduct' }, world.chance)
      // What was thought full and is not is now known to be so.
      const { heelKg, nominalKg } = sizeOf(bottle.sizeId)
      if (observed.contentsKg < 0.9 * nominalKg)
        bottle.believed = observed.contentsKg <= heelKg ? 'empty' : 'partial'
      return {
        kind: 'read',
        cylinderId: bottle.id,
        siteId: world.siteIds[key],
        columns: observedColumns(observed),
      }
    })
    writeCylinderEvents(world.scribe, doing, events)
  }
}

import type { Row } from '../facts'
import { namedUuid } from '../ids'
import { type CylinderEvent, writeCylinderEvents } from '../records/cylinder'
import { type Doing, writeChange, writeRow } from '../records/scribe'
import { sizeOf } from '../reference'
import { localDay } from '../zones'
import { PEOPLE, TEAMS } from './people'
import { type SiteKey, siteOf } from './places'
import { fullAt, keeperOf } from './stock'
import type { Day } from './today-acts'
import { areaId, type Bottle, personId, type World } from './world'

const MIN = 60_000
const DAY_MIN = 24 * 60

const idOf = (world: World, name: string) => namedUuid(`gear/${name}`, world.startMs)
const as = (world: World, atMs: number, key: string, role: Doing['role']): Doing => ({
  atMs,
  personId: personId(world, key),
  role,
})

const VEHICLES = [
  { key: 'flatbed', name: 'Flatbed', plate: 'FD 204', body: 'open_bed', payload_kg: 1500 },
  { key: 'van', name: 'Box van', plate: 'FD 310', body: 'ventilated_box', payload_kg: 900 },
] as const
const CHECKS = [
  'regulatorsOff',
  'valvesShut',
  'capped',
  'upright',
  'lashed',
  'ventilated',
  'apart',
  'driverTold',
]

function buyVehicles(world: World): void {
  const doing = as(world, world.startMs + 60 * MIN, 'jo', 'shop_manager')
  const rows = VEHICLES.map(
    ({ key, ...vehicle }): Row => ({
      id: idOf(world, `vehicle/${key}`),
      site_id: world.siteIds.yard,
      ...vehicle,
      has_trailer: key === 'van',
      trailer_payload_kg: key === 'van' ? 700 : null,
    }),
  )
  writeRow(world.scribe, doing, 'cylinder:move', 'vehicles', ...rows)
}

/** Onto the vehicle, cylinder by cylinder, each weighed by tare and contents. */
function load(world: World, doing: Doing, tripId: string, to: SiteKey, bottles: Bottle[]): void {
  const siteId = world.siteIds.yard
  const events = bottles.map(
    (bottle): CylinderEvent => ({
      kind: 'loaded',
      cylinderId: bottle.id,
      siteId,
      columns: { to_site_id: world.siteIds[to] },
    }),
  )
  writeCylinderEvents(world.scribe, doing, events)
  const items = bottles.map(
    (bottle): Row => ({
      id: idOf(world, `trip-item/${tripId}/${bottle.serial}`),
      trip_id: tripId,
      site_id: siteId,
      cylinder_id: bottle.id,
      body: 'truck',
      gross_kg: Math.round((bottle.tareKg + sizeOf(bottle.sizeId).nominalKg) * 10) / 10,
    }),
  )
  if (items.length > 0) writeRow(world.scribe, doing, 'cylinder:move', 'trip_items', ...items)
  for (const bottle of bottles) bottle.site = null
}

/** One on the road to the depot since half an hour, one that is being loaded. */
function sendTrucks({ world, at }: Day): void {
  const begin = (vehicle: string, to: SiteKey, minute: number): string => {
    const id = idOf(world, `trip/${vehicle}`)
    writeRow(world.scribe, as(world, at(minute), 'otis', 'yard_hand'), 'cylinder:move', 'trips', {
      id,
      site_id: world.siteIds.yard,
      to_site_id: world.siteIds[to],
      vehicle_id: idOf(world, `vehicle/${vehicle}`),
      driver_id: personId(world, 'otis'),
      purpose: 'supports_principal_business',
      made_by: personId(world, 'otis'),
    })
    return id
  }
  const away = begin('flatbed', 'depot', -70)
  const one = [
    ...fullAt(world, 'yard', 'oxygen-244').slice(-1),
    ...fullAt(world, 'yard', 'acetylene-130').slice(-1),
  ]
  load(world, as(world, at(-64), 'otis', 'yard_hand'), away, 'depot', one)
  if (one.length > 0)
    writeChange(world.scribe, as(world, at(-45), 'otis', 'yard_hand'), 'cylinder:move', {
      table: 'trips',
      id: away,
      set: { state: 'under_way', checks: { json: CHECKS } },
    })
  const here = begin('van', 'mill', -24)
  const two = fullAt(world, 'yard', 'oxygen-244').slice(-1)
  load(world, as(world, at(-20), 'otis', 'yard_hand'), here, 'mill', two)
}

/** One looked at each month, one a week overdue. */
function hangExtinguishers({ world, at }: Day): void {
  for (const site of ['mill', 'harbor', 'yard'] as const) {
    const keeper = keeperOf(site).key
    const hung = as(world, world.startMs + 120 * MIN, keeper, 'yard_hand')
    const rows = [
      { number: 'E1', kind: 'dry_chemical', rating: '4-A:80-B:C', place: 'At the gas rack' },
      { number: 'E2', kind: 'water', rating: '2-A', place: 'Stair foot' },
    ].map((row) => ({
      ...row,
      id: idOf(world, `extinguisher/${site}/${row.number}`),
      site_id: world.siteIds[site],
    }))
    writeRow(world.scribe, hung, 'outfit:write', 'extinguishers', ...rows)
    const looked = (number: string, kind: string, days: number) => {
      const doing = as(world, at(-days * DAY_MIN), keeper, 'yard_hand')
      writeRow(world.scribe, doing, 'extinguisher:check', 'extinguisher_checks', {
        id: idOf(world, `extinguisher-check/${site}/${number}/${kind}`),
        extinguisher_id: idOf(world, `extinguisher/${site}/${number}`),
        site_id: world.siteIds[site],
        kind,
        is_good: true,
        person_id: doing.personId,
      })
    }
    looked('E1', 'annual', 150)
    looked('E2', 'annual', 150)
    looked('E1', 'monthly', 12)
    looked('E2', 'monthly', 38)
  }
}

/** The mill's crew is assigned there today, and a surveyor came to look. */
function manMill({ world, at }: Day): void {
  const { zone } = siteOf('mill')
  const dana = as(world, at(-460), 'dana', 'foreman')
  const crew = PEOPLE.filter((person) => person.crew === 'mill')
  const rows = crew.map((person) => ({
    id: idOf(world, `assignment/${person.key}`),
    site_id: world.siteIds.mill,
    person_id: personId(world, person.key),
    day: localDay(zone, world.nowMs),
    assigned_by: dana.personId,
  }))
  writeRow(world.scribe, dana, 'people:assign', 'assignments', ...rows)
  writeRow(world.scribe, as(world, at(-95), 'dana', 'foreman'), 'people:assign', 'visitors', {
    id: idOf(world, 'visitor/1'),
    site_id: world.siteIds.mill,
    name: 'Priya Nolan',
    firm: 'Hearth Mutual Surveyors',
    host_id: dana.personId,
    purpose: 'Looks at the fire watch for the insurer',
    recorded_by: dana.personId,
  })
}

/** A count of the yard that waits for its second look: one not seen, one that nobody knows. */
function countYard({ world, at }: Day): void {
  const otis = as(world, at(-150), 'otis', 'yard_hand')
  const countId = idOf(world, 'count/yard')
  writeRow(world.scribe, otis, 'cylinder:move', 'stock_counts', {
    id: countId,
    site_id: world.siteIds.yard,
    person_id: otis.personId,
    role_then: otis.role,
  })
  const standing = world.bottles
    .filter((bottle) => bottle.site === 'yard' && bottle.rig === null)
    .sort((a, b) => a.serial.localeCompare(b.serial))
  const rows = [...standing.slice(1).map((bottle) => bottle.serial), 'OX-99017'].map((serial) => ({
    id: idOf(world, `sighting/${serial}`),
    count_id: countId,
    site_id: world.siteIds.yard,
    serial,
    area_id: areaId(world, 'yard', 'lot'),
    person_id: otis.personId,
    role_then: otis.role,
  }))
  writeRow(
    world.scribe,
    as(world, at(-140), 'otis', 'yard_hand'),
    'cylinder:move',
    'stock_sightings',
    ...rows,
  )
}

/** Somebody was nearly hit at the depot three weeks ago; it was followed up and waits to be closed. */
function nearMiss({ world, at }: Day): void {
  const vera = (minute: number) => as(world, at(minute), 'vera', 'foreman')
  const id = idOf(world, 'incident/depot')
  const told = vera(-21 * DAY_MIN)
  writeRow(world.scribe, told, 'incident:record', 'incidents', {
    id,
    site_id: world.siteIds.depot,
    area_id: areaId(world, 'depot', 'bay-2'),
    kind: 'near_miss',
    what: 'An offcut slid from the lift basket and fell to the slab; nobody stood there',
    done_words: 'Work stopped, slab roped off',
    happened_at: new Date(told.atMs - 20 * MIN),
    person_id: told.personId,
    role_then: told.role,
  })
  writeRow(world.scribe, vera(-20 * DAY_MIN), 'incident:record', 'incident_events', {
    id: idOf(world, 'incident/depot/1'),
    site_id: world.siteIds.depot,
    incident_id: id,
    kind: 'followed_up',
    words: 'Baskets have a toe board now; the crew was told on Monday',
    person_id: told.personId,
    role_then: told.role,
  })
}

/** The yard's lot, measured twelve days ago: oxygen and fuel stand twenty-four feet apart. */
function measureLot({ world, at }: Day): void {
  const otis = as(world, at(-12 * DAY_MIN), 'otis', 'yard_hand')
  const answers = {
    oxygenFuelFt: 24,
    barrier: null,
    isInGasCabinets: false,
    isVentilated: true,
    isDry: true,
    isLocker: false,
    isAwayFromHeatAndExits: true,
    isSafeFromTampering: true,
    highlyCombustibleFt: 40,
    vegetationFt: 12,
    noSmokingSignsWithinFt: 20,
    couldFall: false,
    hottestF: 96,
    lpgBuildingFt: 30,
    lpgDoorFt: 30,
    lpgCombustiblesFt: 12,
    hasSingleExit: false,
    extinguisherRatingB: 80,
    firePermitNo: 'OP-1183',
  }
  writeRow(world.scribe, otis, 'cylinder:move', 'storage_answers', {
    id: idOf(world, 'storage/lot'),
    site_id: world.siteIds.yard,
    area_id: areaId(world, 'yard', 'lot'),
    answers: { json: answers },
    person_id: otis.personId,
    role_then: otis.role,
  })
}

/** Outfits that are looked at: each by its operator's foreman, one with a holder of its own. */
function testOutfits({ world, at }: Day): void {
  for (const rig of world.rigs.filter((one) => one.site === 'mill')) {
    const dana = (days: number) => as(world, at(-days * DAY_MIN), TEAMS.mill.foreman, 'foreman')
    const tell = (kind: string, days: number, data: object) => {
      const doing = dana(days)
      writeRow(world.scribe, doing, 'outfit:inspect', 'outfit_events', {
        id: idOf(world, `outfit/${rig.number}/${kind}/${days}/${JSON.stringify(data)}`),
        outfit_id: rig.id,
        site_id: world.siteIds.mill,
        kind,
        person_id: doing.personId,
        role_then: doing.role,
        data: { json: data },
      })
    }
    tell('inspected', 24, { scope: 'interval', verdict: 'passed' })
    for (const side of ['oxygen', 'fuel']) {
      const held = { side, startKpa: 414, endKpa: 414, resolutionKpa: 14, elapsedS: 600 }
      for (const [days, fallKpa] of [
        [83, 1],
        [53, 2],
        [23, 3],
      ] as const)
        tell('leak_tested', days, {
          ...held,
          endKpa: held.startKpa - fallKpa,
          verdict: 'noFallSeen',
          fallKpa,
          fallUKpa: 4,
        })
      tell('creep_tested', 60, { ...held, verdict: 'noRiseSeen', riseKpa: 0 })
      tell('arrestor_tested', 200, { side, verdict: 'passed' })
    }
  }
}

/** What is kept beside permits: trucks, extinguishers, tests of outfits, counts, visitors, a near miss. */
export function keepGear(day: Day): void {
  buyVehicles(day.world)
  hangExtinguishers(day)
  testOutfits(day)
  measureLot(day)
  nearMiss(day)
  manMill(day)
  countYard(day)
  sendTrucks(day)
}

import { gasKgFromFt3 } from '@/lib/calc/units'
import { writePermitEvent } from '../records/permit'
import { sizeOf } from '../reference'
import { localDay } from '../zones'
import { leftAbove, readRig, swapSide } from './gas-use'
import type { HistoryState } from './history'
import type { RunningJob } from './jobs'
import { hangBoth, testGasBetween, workStretch } from './permit-day'
import { as, castPermit, openFrom, type PermitRun, writeRoundOf } from './permit-life'
import { siteOf } from './places'
import { airTemperatureK } from './readings'
import type { WorkingSite } from './work'
import type { Rig, World } from './world'

const MIN = 60_000

type Cast = Readonly<{
  site: WorkingSite
  area: string
  rig: string
  operator: string
  watch: string
  monitoringMin?: number
}>

export type Day = Readonly<{
  world: World
  state: HistoryState
  at: (minutesFromNow: number) => number
}>

function jobAt(state: HistoryState, site: WorkingSite): RunningJob {
  const job = [...state.jobs.values()].findLast((candidate) => candidate.site === site)
  if (!job) throw new Error(`no job runs at ${site}`)
  return job
}

function rigNumbered(world: World, number: string): Rig {
  const rig = world.rigs.find((candidate) => candidate.number === number)
  if (!rig) throw new Error(`no outfit ${number}`)
  return rig
}

export function castToday(day: Day, cast: Cast, atMs: number): PermitRun {
  const area = siteOf(cast.site).areas.find((candidate) => candidate.key === cast.area)
  if (!area) throw new Error(`no area ${cast.area}`)
  const { operator, watch, monitoringMin } = cast
  const rig = rigNumbered(day.world, cast.rig)
  return castPermit(day.world, {
    job: jobAt(day.state, cast.site),
    rig,
    area,
    operator,
    watch,
    atMs,
    ...(monitoringMin === undefined ? {} : { monitoringMin }),
  })
}

const temperatureOf = ({ world }: Day, site: WorkingSite) =>
  airTemperatureK(siteOf(site).zone, localDay(siteOf(site).zone, world.nowMs), world.chance)

/** A gas test is good for the day its instrument was bump-tested: both fall after the site's midnight. */
function pastMidnight({ at }: Day, site: WorkingSite, issued: number): number {
  const { zone } = siteOf(site)
  return localDay(zone, at(issued - 8)) === localDay(zone, at(issued)) ? issued : issued + 9
}

/** Opened and cut under since `issued`, in stretches of about an hour, until `until`; minutes from now. */
export function openAndCut(
  day: Day,
  cast: Cast,
  wanted: number,
  until: number,
  validUntil: number,
): PermitRun {
  const { world, at } = day
  const issued = pastMidnight(day, cast.site, wanted)
  const run = castToday(day, cast, at(issued - 40))
  openFrom(run, { prepareMs: at(issued - 40), issueMs: at(issued), validUntilMs: at(validUntil) })
  const temperatureK = temperatureOf(day, cast.site)
  hangBoth(run, at(issued + 3), temperatureK)
  readRig(world, {
    rig: run.rig,
    job: run.job,
    permitId: run.sheet.id,
    temperatureK,
    doing: as(run, 'operator', at(issued + 6)),
  })
  const stretches = Math.floor((until - issued - 20) / 78)
  for (let i = 0; i < stretches; i += 1) {
    const fromMs = at(issued + 14 + i * 78)
    workStretch(run, { fromMs, toMs: fromMs + 66 * MIN }, 1500, temperatureK)
  }
  testGasBetween(run, at(issued - 7), at(until))
  return run
}

export function endWork(day: Day, run: PermitRun, torchOut: number): void {
  writePermitEvent(day.world.scribe, run.sheet, as(run, 'operator', day.at(torchOut)), 'work_ended')
  const temperatureK = temperatureOf(day, run.job.site)
  readRig(day.world, {
    rig: run.rig,
    job: run.job,
    permitId: run.sheet.id,
    temperatureK,
    doing: as(run, 'operator', day.at(torchOut + 1)),
  })
}

export function rounds(day: Day, run: PermitRun, minutes: readonly number[]): void {
  for (const minute of minutes) writeRoundOf(run, day.at(minute) - 20_000)
}

/** Outfit 3's oxygen is left at about 86 ft³, read a few minutes ago. */
const SHOWN_FT3 = 86

export function leaveOxygen(day: Day, run: PermitRun, minute: number): void {
  const { world, at } = day
  const drawing = {
    rig: run.rig,
    job: run.job,
    permitId: run.sheet.id,
    temperatureK: temperatureOf(day, run.job.site),
    doing: as(run, 'operator', at(minute)),
  }
  const shownKg = gasKgFromFt3('oxygen', SHOWN_FT3)
  if (leftAbove(run.rig, 'oxygen') < shownKg - sizeOf(run.rig.sizes.oxygen).heelKg) {
    swapSide(world, 'oxygen', { ...drawing, doing: as(run, 'operator', at(minute - 40)) })
  }
  const bottle = run.rig.on.oxygen
  if (bottle) bottle.gasKg = shownKg
  readRig(world, drawing)
}

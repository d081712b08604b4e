import { gasKgFromFt3 } from '@/lib/calc/units'
import { writePermitEvent } from '../records/permit'
import { sizeOf } from '../reference'
import { atLocal, localDay } from '../zones'
import { leftAbove, readRig, swapSide } from './gas-use'
import type { HistoryState } from './history'
import type { RunningJob } from './jobs'
import { hangBoth, testGasBetween, workStretch } from './permit-day'
import {
  as,
  castPermit,
  holdAndResume,
  lookAtGear,
  openFrom,
  type PermitRun,
  writeRoundOf,
} from './permit-life'
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

/** When a new shift begins at a site between two instants. */
function shiftBetween(site: WorkingSite, fromMs: number, toMs: number): number | undefined {
  const { zone, shiftStarts } = siteOf(site)
  return [fromMs, toMs]
    .flatMap((atMs) =>
      shiftStarts.map((clock) => {
        const [hours = 0, minutes = 0] = clock.split(':').map(Number)
        return atLocal(zone, localDay(zone, atMs), hours * 60 + minutes)
      }),
    )
    .find((atMs) => atMs > fromMs && atMs <= toMs)
}

const PREPARED_MIN = 22

/**
 * When a permit can be issued from the minute that is wanted: a gas test is good for the day its instrument was
 * bump-tested, a look and a check of the outfit for their shift, so that both are done after the site's midnight and
 * the shift's beginning.
 */
function issuedFrom({ at }: Day, site: WorkingSite, wanted: number): number {
  const { zone } = siteOf(site)
  const shiftMs = shiftBetween(site, at(wanted - PREPARED_MIN), at(wanted))
  const inShift =
    shiftMs === undefined
      ? wanted
      : wanted + PREPARED_MIN - Math.floor((at(wanted) - shiftMs) / MIN)
  return localDay(zone, at(inShift - 8)) === localDay(zone, at(inShift)) ? inShift : inShift + 9
}

const STRETCH_MIN = 66
const PAUSE_MIN = 12

/**
 * Held over a change of shift: the outfit is looked at and the place walked anew before the torch is lit again.
 *
 * @returns when it is lit again; null where that is not before `untilMs`, and nothing was written
 */
function holdOverShift(run: PermitRun, heldMs: number, shiftMs: number, untilMs: number) {
  const resumeMs = Math.max(heldMs, shiftMs) + PAUSE_MIN * MIN
  if (resumeMs + PAUSE_MIN * MIN > untilMs) return null
  const everyMs = run.judged.duties.roundIntervalMin * MIN
  const roundsAt: number[] = []
  for (let atMs = heldMs + everyMs; atMs < resumeMs; atMs += everyMs) roundsAt.push(atMs - 20_000)
  lookAtGear(run, resumeMs - 8 * MIN)
  holdAndResume(run, { atMs: heldMs, resumeMs, reason: 'Change of shift' }, 2, roundsAt)
  return resumeMs
}

/** Cut under in stretches of about an hour; nothing is cut on a look of the shift before. */
function cutBetween(run: PermitRun, issuedMs: number, untilMs: number, temperatureK: number): void {
  const { site } = run.job
  const last = { lookMs: issuedMs - 14 * MIN, litMs: issuedMs }
  for (let fromMs = issuedMs + 14 * MIN; fromMs + (STRETCH_MIN + 18) * MIN <= untilMs; ) {
    const toMs = fromMs + STRETCH_MIN * MIN
    const shiftMs = shiftBetween(site, last.lookMs, toMs)
    const outMs = shiftMs === undefined ? toMs : Math.min(toMs, shiftMs - 4 * MIN)
    if (outMs - fromMs > 20 * MIN) workStretch(run, { fromMs, toMs: outMs }, 1500, temperatureK)
    if (shiftMs === undefined) {
      fromMs = toMs + PAUSE_MIN * MIN
      continue
    }
    const heldMs = Math.max(outMs, fromMs - PAUSE_MIN * MIN) + MIN
    const resumeMs = holdOverShift(run, heldMs, shiftMs, untilMs)
    if (resumeMs === null) break
    testGasBetween(run, last.litMs - 7 * MIN, heldMs)
    last.lookMs = resumeMs - 4 * MIN
    last.litMs = resumeMs
    fromMs = resumeMs + 5 * MIN
  }
  testGasBetween(run, last.litMs - 7 * MIN, untilMs)
}

/** Opened and cut under since `wanted` or the shift's beginning, until `until`; minutes from now. */
export function openAndCut(
  day: Day,
  cast: Cast,
  wanted: number,
  until: number,
  validUntil: number,
): PermitRun {
  const { world, at } = day
  const issued = issuedFrom(day, cast.site, wanted)
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
  cutBetween(run, at(issued), at(until), temperatureK)
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

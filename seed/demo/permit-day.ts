import { writeLog, writePermitEvent } from '../records/permit'
import { atLocal } from '../zones'
import { draw, leftAbove, readRig, swapSide } from './gas-use'
import { type RunningCut, TORCH_S_PER_DAY } from './jobs'
import {
  as,
  castPermit,
  closeAt,
  holdAndResume,
  openFrom,
  type PermitCast,
  type PermitRun,
  testGas,
  writeRoundOf,
} from './permit-life'
import { siteOf } from './places'
import { airTemperatureK } from './readings'
import type { World } from './world'

const MIN = 60_000
const STRETCHES = 5

/** When the shift's permit is issued, by the site's clock; the depot starts before the heat. */
const issueMinute = (site: string) => (site === 'depot' ? 5 * 60 + 40 : 6 * 60 + 50)

export type DayPlan = Omit<PermitCast, 'atMs' | 'differing' | 'monitoringMin'> &
  Readonly<{
    day: string
    isFirstOfJob: boolean
    isLastOfJob: boolean
    daysLeft: number
    isStopped: boolean
    unloggedSwapIn?: number
  }>

type Stretch = Readonly<{ fromMs: number; toMs: number }>

export function nextCut(run: PermitRun): RunningCut | undefined {
  return run.job.cuts.find((cut) => cut.done < cut.count)
}

/** Cuts for one stretch of the day, draws the gas they truly take, and writes it down. */
export function workStretch(
  run: PermitRun,
  stretch: Stretch,
  budgetS: number,
  temperatureK: number,
): boolean {
  const { world, job, rig } = run
  const cut = nextCut(run)
  if (!cut) return false
  const pieces = Math.min(cut.count - cut.done, Math.max(1, Math.round(budgetS / cut.each.torchS)))
  const use = job.useFactor * world.chance.factor(0.06)
  const { fromMs, toMs } = stretch
  const atMs = (share: number) => Math.round(fromMs + (0.1 + 0.8 * share) * (toMs - fromMs))
  const from = {
    rig,
    job,
    permitId: run.sheet.id,
    temperatureK,
    doing: as(run, 'operator', fromMs),
  }
  const hasOxygen = draw(world, 'oxygen', cut.each.oxygenKg * pieces * use, { from, atMs })
  const hasFuel =
    hasOxygen &&
    draw(world, 'fuel', cut.each.fuelKg * pieces * use, {
      from,
      atMs: (share) => atMs(share) + 30_000,
    })
  const delayMin = world.chance.happens(0.05)
    ? world.chance.whole(35, 50)
    : world.chance.whole(1, 6)
  const recordedMs = Math.min(toMs + delayMin * MIN, world.nowMs)
  writeLog(world.scribe, run.sheet, as(run, 'operator', recordedMs), {
    fromMs,
    toMs,
    cutId: cut.id,
    pieces,
  })
  cut.done += pieces
  return hasOxygen && hasFuel
}

/** What is left of every cut is done in the last stretch of the last day. */
function finishCuts(run: PermitRun, stretch: Stretch, temperatureK: number): boolean {
  const left = run.job.cuts.filter((cut) => cut.done < cut.count)
  const eachMs = Math.floor((stretch.toMs - stretch.fromMs) / Math.max(1, left.length))
  return left.every((cut, i) => {
    const fromMs = stretch.fromMs + i * eachMs
    return workStretch(
      run,
      { fromMs, toMs: fromMs + eachMs },
      cut.each.torchS * cut.count,
      temperatureK,
    )
  })
}

/** Hourly, so that no gas test is ever older than it may be while the torch burns. */
export function testGasBetween(run: PermitRun, fromMs: number, toMs: number): void {
  for (let atMs = fromMs + 52 * MIN; atMs < toMs; atMs += 52 * MIN) testGas(run, atMs)
}

/** Rounds on the grid from torch out until the minutes are watched; sometimes one is late. */
function watchAndClose(run: PermitRun, torchOutMs: number): void {
  const { world } = run
  const { chance } = world
  const { watchMin, roundIntervalMin, monitoringMin } = run.judged.duties
  const rounds = Math.ceil(watchMin / roundIntervalMin)
  const lateRound = chance.happens(0.06) ? chance.whole(2, rounds - 1) : 0
  const lateMin = lateRound > 0 ? chance.whole(3, 7) : 0
  const warmRound = chance.happens(0.05) ? chance.whole(1, 3) : 0
  for (let round = 1; round <= rounds; round += 1) {
    const dueMs = torchOutMs + round * roundIntervalMin * MIN
    const atMs = round === lateRound ? dueMs + lateMin * MIN : dueMs - chance.whole(3, 100) * 1000
    writeRoundOf(run, atMs, round === warmRound ? ['warm'] : [])
  }
  if (lateRound > 0)
    world.planted.push({ kind: 'late_round', atMs: torchOutMs, subjectId: run.sheet.id })
  const watchedMs = torchOutMs + (watchMin + lateMin) * MIN
  // Monitoring is looked at without a grid of rounds.
  closeAt(run, watchedMs + monitoringMin * MIN + chance.whole(5, 8) * MIN)
}

function stopFor(run: PermitRun, atMs: number): void {
  const { world, sheet } = run
  writePermitEvent(world.scribe, sheet, as(run, 'watch', atMs), 'held', { data: { stop: true } })
  writePermitEvent(world.scribe, sheet, as(run, 'foreman', atMs + 4 * MIN), 'stopped', {
    data: { reason: 'Sparks past the cover' },
  })
  world.planted.push({ kind: 'stop', atMs, subjectId: sheet.id })
}

const HOLD_REASONS = [
  'Crane lift overhead',
  'Wind over the limit',
  'Mill crew passing below',
  'Lunch over half an hour',
] as const

/** Where a hold falls among the stretches; -1 for a day without one. */
const holdAfter = (world: World, isStopped: boolean) =>
  !isStopped && world.chance.happens(0.14) ? world.chance.whole(1, 3) : -1

/** One day under one permit, from the bench to the last signature. Returns when the last of it ended. */
export function playPermitDay(world: World, plan: DayPlan): PermitRun {
  const { zone } = siteOf(plan.job.site)
  const { chance } = world
  const issueMs = atLocal(zone, plan.day, issueMinute(plan.job.site)) + chance.whole(0, 8) * MIN
  const run = castPermit(world, { ...plan, atMs: issueMs - 40 * MIN })
  const temperatureK = airTemperatureK(zone, plan.day, chance)
  openFrom(run, { prepareMs: issueMs - 40 * MIN, issueMs, validUntilMs: issueMs + 580 * MIN })
  const reading = { rig: plan.rig, job: plan.job, permitId: run.sheet.id, temperatureK }
  hangBoth(run, issueMs + 3 * MIN, temperatureK)
  if (plan.isFirstOfJob)
    readRig(world, { ...reading, doing: as(run, 'operator', issueMs + 8 * MIN) })
  const torchOutMs = playStretches(run, plan, { issueMs, temperatureK })
  readRig(world, { ...reading, doing: as(run, 'operator', torchOutMs + 9 * MIN) })
  watchAndClose(run, torchOutMs)
  return run
}

/** A side that hangs empty or not at all is filled before lighting. */
export function hangBoth(run: PermitRun, atMs: number, temperatureK: number): void {
  const { world, rig, job } = run
  const from = { rig, job, permitId: run.sheet.id, temperatureK, doing: as(run, 'operator', atMs) }
  for (const side of ['oxygen', 'fuel'] as const) {
    if (!rig.on[side] || leftAbove(rig, side) <= 0) swapSide(world, side, from)
  }
}

function playStretches(
  run: PermitRun,
  plan: DayPlan,
  day: Readonly<{ issueMs: number; temperatureK: number }>,
): number {
  const { world } = run
  const { chance } = world
  const left = run.job.cuts.reduce((sum, cut) => sum + (cut.count - cut.done) * cut.each.torchS, 0)
  const most = (plan.daysLeft <= 1 ? 2.2 : 1.6) * TORCH_S_PER_DAY
  const budgetS = Math.min(most, left / Math.max(1, plan.daysLeft)) / STRETCHES
  const holdsAfter = holdAfter(world, plan.isStopped)
  const stopsAfter = plan.isStopped ? chance.whole(1, 3) : -1
  const clock = { ms: day.issueMs + 14 * MIN, burningSinceMs: day.issueMs }
  for (let i = 0; i < STRETCHES; i += 1) {
    if (plan.unloggedSwapIn === i) run.rig.forgetsNext = true
    const stretch = { fromMs: clock.ms, toMs: clock.ms + chance.whole(58, 68) * MIN }
    const isLast = plan.daysLeft <= 1 && i === STRETCHES - 1
    const goesOn = isLast
      ? finishCuts(run, stretch, day.temperatureK)
      : workStretch(run, stretch, budgetS, day.temperatureK)
    clock.ms = stretch.toMs + chance.whole(8, 12) * MIN
    if (i === stopsAfter) {
      testGasBetween(run, clock.burningSinceMs - 7 * MIN, clock.ms)
      stopFor(run, clock.ms)
      return clock.ms
    }
    if (!goesOn || !nextCut(run)) break
    if (i === holdsAfter) {
      testGasBetween(run, clock.burningSinceMs - 7 * MIN, clock.ms)
      const resumeMs = clock.ms + chance.whole(24, 36) * MIN
      const roundsAt = [10, 20].map(
        (minute) => clock.ms + minute * MIN - chance.whole(3, 90) * 1000,
      )
      holdAndResume(
        run,
        { atMs: clock.ms, resumeMs, reason: chance.pick(HOLD_REASONS) },
        2,
        roundsAt,
      )
      clock.burningSinceMs = resumeMs
      clock.ms = resumeMs + 5 * MIN
    }
  }
  testGasBetween(run, clock.burningSinceMs - 7 * MIN, clock.ms)
  writePermitEvent(world.scribe, run.sheet, as(run, 'operator', clock.ms), 'work_ended')
  return clock.ms
}

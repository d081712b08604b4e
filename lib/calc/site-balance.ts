import {
  type CusumPlan,
  type CusumState,
  type EwmaPoint,
  ewmaChart,
  startCusum,
  stepCusum,
} from './control-chart'
import { fleetDecisionInterval, limitWidth } from './control-chart-run-length'
import type { Expected } from './hypotheses-expected'
import type { Stretches } from './hypotheses-stretches'
import type { Stretch, TrailReading } from './hypotheses-types'
import { Z_90 } from './stats'

/** What left the cylinders of a site in a week, by where it went, kg and kg². */
export type WeekBalance = {
  fromMs: number
  /** While work was logged. */
  used: { kg: number; variance: number }
  /** What that work should have taken by its crews' own factors. */
  expected: { kg: number; variance: number }
  /** While nothing was logged: what nobody can have burned. */
  lost: { kg: number; variance: number }
  /**
   * Variances of the sums of this and all later weeks, kg²; `both` of used and lost together. A reading that ends
   * one week begins another and cancels, so these are less than the weeks' own added up.
   */
  toLast?: { used: number; lost: number; both: number } | undefined
}

const WEEK_MS = 7 * 86_400_000
/** A Monday, so that weeks are weeks. */
const FIRST_MONDAY_MS = Date.UTC(2001, 0, 1)

export const weekOf = (ms: number) =>
  FIRST_MONDAY_MS + Math.floor((ms - FIRST_MONDAY_MS) / WEEK_MS) * WEEK_MS

/**
 * A site's gas week by week.
 *
 * Each stretch counts in the week in which it ends. Within a week a reading that closes one interval and
 * opens the next cancels, so that only the first and the last of a row of readings bring doubt in.
 *
 * @param parted stretches of the trail, with what each should have taken
 * @returns weeks with anything in them, oldest first; work that the record can't judge is left out
 * @source sums of readings with their variances (GUM 5.1.2)
 */
export function weeklyBalances(
  { stretches, before }: Stretches,
  expected: readonly Expected[],
  readings: readonly TrailReading[],
): WeekBalance[] {
  const weeks = new Map<number, { week: WeekBalance; sums: Sums }>()
  for (const [place, stretch] of stretches.entries()) {
    const wanted = expected[place]
    if (!wanted || Number.isNaN(wanted.kg)) continue
    const fromMs = weekOf(stretch.toMs)
    const open = weeks.get(fromMs) ?? emptyWeek(fromMs)
    weeks.set(fromMs, open)
    addStretch(open, stretch, wanted, before)
  }
  const sorted = [...weeks.values()].sort((a, b) => a.week.fromMs - b.week.fromMs)
  const toLast = variancesToLast(
    sorted.map((one) => one.sums),
    readings,
  )
  return sorted.map(({ week, sums }, i) => ({
    ...week,
    used: sumOf(sums.used, readings),
    lost: sumOf(sums.lost, readings, week.lost.kg),
    toLast: toLast[i],
  }))
}

type Sums = Record<Side, Map<number, number>>

/** Of each week to the last: readings between weeks cancel. */
function variancesToLast(
  weeks: readonly Sums[],
  readings: readonly TrailReading[],
): NonNullable<WeekBalance['toLast']>[] {
  const [used, lost, both] = [
    runningVariance(readings),
    runningVariance(readings),
    runningVariance(readings),
  ]
  return [...weeks]
    .reverse()
    .map((sums) => {
      both(sums.used)
      return { used: used(sums.used), lost: lost(sums.lost), both: both(sums.lost) }
    })
    .reverse()
}

/** Variance of a sum of weighted readings to which weights are added bit by bit. */
function runningVariance(readings: readonly TrailReading[]) {
  const held = new Map<number, number>()
  let variance = 0
  return (weights: ReadonlyMap<number, number>): number => {
    for (const [place, weight] of weights) {
      const before = held.get(place) ?? 0
      const after = before + weight
      const { standardUncertaintyKg } = readings[place] as TrailReading
      variance += (after * after - before * before) * standardUncertaintyKg ** 2
      if (after === 0) held.delete(place)
      else held.set(place, after)
    }
    // What cancels leaves the last digits behind.
    variance = Math.max(0, variance)
    return variance
  }
}

type Side = 'used' | 'lost'

function emptyWeek(fromMs: number) {
  const none = () => ({ kg: 0, variance: 0 })
  return {
    week: { fromMs, used: none(), expected: none(), lost: none() },
    sums: { used: new Map<number, number>(), lost: new Map<number, number>() },
  }
}

function addStretch(
  { week, sums }: ReturnType<typeof emptyWeek>,
  stretch: Stretch,
  wanted: Expected,
  before: Int32Array,
): void {
  const side = stretch.kind === 'work' ? 'used' : 'lost'
  const weigh = (place: number, weight: number) =>
    sums[side].set(place, (sums[side].get(place) ?? 0) + weight)
  for (const end of stretch.ends) {
    weigh(before[end] as number, 1)
    weigh(end, -1)
  }
  if (side === 'used') {
    week.expected.kg += wanted.kg
    week.expected.variance += wanted.variance
    // What boils off as expected, or was accounted for, is no loss.
  } else week.lost.kg -= wanted.kg
}

/** Weighted readings, and their variance; a start value is taken along. */
function sumOf(weights: ReadonlyMap<number, number>, readings: readonly TrailReading[], kg = 0) {
  const sum = { kg, variance: 0 }
  for (const [place, weight] of weights) {
    const { gasKg, standardUncertaintyKg } = readings[place] as TrailReading
    sum.kg += weight * gasKg
    sum.variance += (weight * standardUncertaintyKg) ** 2
  }
  return sum
}

/** Half of half a standard deviation a week: the loss that is looked for. Own choice. */
const K = 0.25
/** Weight of the newest week in the moving average. @source NIST/SEMATECH e-Handbook 6.3.2.4 names 0.2 to 0.3 */
const LAMBDA = 0.2
/** False alarms that may be chosen for a year over all charts together. Own choice. */
export const FALSE_ALARMS_A_YEAR = [0.25, 1, 4] as const
export type FalseAlarmsAYear = (typeof FALSE_ALARMS_A_YEAR)[number]
export const USUAL_ALARMS_A_YEAR: FalseAlarmsAYear = 1
const WEEKS_A_YEAR = 52

export type LossPlan = CusumPlan & {
  /** Weight of the newest week, and half the limits' distance in deviations of the settled average. */
  average: { lambda: number; width: number }
}

/**
 * The plan of the loss charts of a company: one a site and gas, which together bear so many false alarms.
 *
 * @param charts of the company
 * @param alarmsAYear false alarms in a year over all charts, of the sum and of the average each
 */
export function lossPlan(charts: number, alarmsAYear: number = USUAL_ALARMS_A_YEAR): LossPlan {
  const fleet = {
    charts: Math.max(1, charts),
    valuesPerPeriod: WEEKS_A_YEAR,
    falseAlarmsPerPeriod: alarmsAYear,
  }
  return {
    k: K,
    h: fleetDecisionInterval({ k: K, ...fleet }),
    average: {
      lambda: LAMBDA,
      width: limitWidth({
        lambda: LAMBDA,
        runLength: (fleet.charts * WEEKS_A_YEAR) / alarmsAYear,
      }),
    },
  }
}

/** A week with its loss in deviations, the sum it brings and the moving average beside it. */
export type LossPoint = WeekBalance & { z: number; state: CusumState; average: EwmaPoint }
export type LossChart = {
  points: LossPoint[]
  plan: LossPlan
  /** The week in which the rise began that first went out, and the week in which it did. */
  signal: { onsetMs: number; outMs: number } | null
}

/**
 * Losses summed up week by week, each in its own deviations; never set back by itself. The moving average
 * goes beside it: it shows how large a loss is now where the sum shows that there is one.
 *
 * @param weeks oldest first, variances above nought where anything was lost
 * @source one-sided cumulative sum, NIST/SEMATECH e-Handbook 6.3.2.3; moving average, 6.3.2.4
 */
export function lossChart(weeks: readonly WeekBalance[], plan: LossPlan): LossChart {
  const values = weeks.map(({ lost }) =>
    lost.variance > 0 ? lost.kg / Math.sqrt(lost.variance) : 0,
  )
  const averages = ewmaChart({ values, target: 0, sd: 1, ...plan.average })
  let state = startCusum(plan)
  const points = weeks.map((week, i): LossPoint => {
    const [z, average] = [values[i] as number, averages[i] as EwmaPoint]
    state = stepCusum(plan, state, z)
    return { ...week, z, state, average }
  })
  const out = points.find((point) => point.state.isOut)
  const onset = points[out?.state.onset ?? -1]
  return {
    points,
    plan,
    signal: out && onset ? { onsetMs: onset.fromMs, outMs: out.fromMs } : null,
  }
}

/** A sum of gas with its nine in ten. */
export type Amount = { kg: number; low90Kg: number; high90Kg: number }

/** @param variance kg², not below nought @source normal quantile at 0.95 */
export const amountOf = (kg: number, variance: number): Amount => ({
  kg,
  low90Kg: kg - Z_90 * Math.sqrt(variance),
  high90Kg: kg + Z_90 * Math.sqrt(variance),
})

export type PeriodBalance = {
  left: Amount
  expected: Amount
  overWork: Amount
  lost: Amount
  /** Beyond the work and standing: what nobody can account for. */
  unexplained: Amount
}

/**
 * A period's sums, which add up: left = expected by the work + beyond it + lost while nothing was logged.
 *
 * @param weeks to the last there is, oldest first: their readings cancel from one to the next
 */
export function periodBalance(weeks: readonly WeekBalance[]): PeriodBalance {
  const total = (pick: (week: WeekBalance) => { kg: number; variance: number }) => ({
    kg: weeks.reduce((sum, week) => sum + pick(week).kg, 0),
    variance: weeks.reduce((sum, week) => sum + pick(week).variance, 0),
  })
  const [used, expected, lost] = [
    total((week) => week.used),
    total((week) => week.expected),
    total((week) => week.lost),
  ]
  const over = used.kg - expected.kg
  const known = weeks[0]?.toLast
  const variance = known ?? {
    used: used.variance,
    lost: lost.variance,
    both: used.variance + lost.variance,
  }
  return {
    left: amountOf(used.kg + lost.kg, variance.both),
    expected: amountOf(expected.kg, expected.variance),
    overWork: amountOf(over, variance.used + expected.variance),
    lost: amountOf(lost.kg, variance.lost),
    unexplained: amountOf(over + lost.kg, variance.both + expected.variance),
  }
}

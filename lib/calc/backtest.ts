import { conformalBound } from './conformal'
import { BOUND_PROBABILITIES, chooseMethods, type PastWindow } from './demand-choice'
import { DEMAND_CLASSES, type DemandClass } from './demand-class'
import { DEMAND_METHODS, type DemandMethod } from './demand-methods'
import { CalcError } from './errors'
import { coverage, pinballLoss } from './forecast-accuracy'
import { coveredBound } from './learned-demand'
import { pastWindows, type UseHistory, unplannedOnly } from './past-windows'

export type BacktestPlan = Readonly<{
  /** Periods that a bound covers: lead time and review. */
  horizon: number
  /** Origins that are judged, the last of the series. */
  origins: number
  /** Windows before each origin that its choice and its bounds are learned from. */
  learnFrom: number
  /** Periods that are seen before the first window is forecast. */
  warmUp: number
  /** Which bound is judged: what past misses alone say, or what an order covers, by its own distribution too. */
  bound: 'learned' | 'ordered'
}>

export const USUAL_BACKTEST: BacktestPlan = {
  horizon: 3,
  origins: 12,
  learnFrom: 24,
  warmUp: 6,
  bound: 'learned',
}

export type BacktestRow = Readonly<{
  method: DemandMethod | 'chosen'
  windows: number
  /** Mean pinball loss, and share of bounds that held, at each chance. */
  pinball: readonly number[]
  coverage: readonly Readonly<{ share: number; low: number; high: number }>[]
  /** Total forecast over total actual. */
  bias: number | null
}>
export type Backtest = Readonly<{
  series: number
  rows: readonly BacktestRow[]
  byClass: readonly (BacktestRow & Readonly<{ demandClass: DemandClass }>)[]
}>

class Tally {
  windows = 0
  forecast = 0
  actual = 0
  readonly loss = BOUND_PROBABILITIES.map(() => 0)
  readonly held = BOUND_PROBABILITIES.map(() => 0)

  constructor(private readonly plan: BacktestPlan) {}

  add(window: PastWindow, at: number, scores: readonly (number | null)[]): void {
    const mean = window.means[at] ?? 0
    const { variance } = window
    this.windows += 1
    this.forecast += mean
    this.actual += window.total
    for (const [i, probability] of BOUND_PROBABILITIES.entries()) {
      const score = scores[i] ?? null
      const isOrdered = this.plan.bound === 'ordered'
      // Without enough windows past misses set no bound: it is counted as one that did not hold.
      const learned = score === null ? 0 : conformalBound({ mean, variance, score })
      const bound = isOrdered
        ? coveredBound({ mean, variance }, { service: probability, score })
        : learned
      this.loss[i] = (this.loss[i] ?? 0) + pinballLoss(bound, window.total, probability)
      if ((isOrdered || score !== null) && window.total <= bound)
        this.held[i] = (this.held[i] ?? 0) + 1
    }
  }

  /**
   * Windows of one series that end a period apart share most of their periods, so that one surprise is missed by
   * several: they count for as many as would stand side by side in the same stretch.
   */
  private apart(): number {
    const { origins, horizon } = this.plan
    return (origins + horizon - 1) / (origins * horizon)
  }

  row<Name extends string>(method: Name) {
    return {
      method,
      windows: this.windows,
      pinball: this.loss.map((loss) => loss / this.windows),
      coverage: this.held.map((held) => {
        const count = Math.max(1, this.windows * this.apart())
        return coverage({ held: (held / this.windows) * count, count })
      }),
      bias: this.actual > 0 ? this.forecast / this.actual : null,
    }
  }
}

/**
 * Rolling-origin back-test: at each origin the method and its bounds are chosen from windows that had ended
 * by then, and judged on the next. The same correction is given to every method, so that none wins by it.
 *
 * @param series equally long, per period, oldest first, none below nought
 * @param plan horizon, origins, windows to learn from, periods to warm up
 * @returns pinball loss, coverage and bias of the chosen forecast and of each method; the chosen one by class
 * @throws {CalcError} OUT_OF_RANGE where the series are too short or of different length
 */
export function backtest(
  series: readonly (readonly number[])[],
  plan: BacktestPlan = USUAL_BACKTEST,
): Backtest {
  const periods = series[0]?.length ?? 0
  const uneven = series.findIndex((one) => one.length !== periods)
  if (uneven >= 0) throw new CalcError('OUT_OF_RANGE', `series.${uneven}`, series[uneven]?.length)
  return backtestUse(series.map(unplannedOnly), plan)
}

/**
 * The same where part of what came had been planned: the plan counts in every forecast, and all that came judges it.
 * Series end on the same period; one that began later has fewer windows.
 */
export function backtestUse(
  series: readonly UseHistory[],
  plan: BacktestPlan = USUAL_BACKTEST,
): Backtest {
  const { horizon, origins, learnFrom, warmUp } = plan
  const periods = Math.max(0, ...series.map((one) => one.came.length))
  const first = periods - horizon - origins + 1
  if (first - horizon < warmUp) throw new CalcError('OUT_OF_RANGE', 'periods', periods)
  const windows = series.map((history) => {
    const own = pastWindows(history, horizon).slice(warmUp)
    const missing = Math.max(0, periods - horizon + 1 - own.length)
    return [...new Array<null>(missing).fill(null), ...own]
  })
  const tallies = new Map<DemandMethod | 'chosen', Tally>(
    [...DEMAND_METHODS, 'chosen' as const].map((method) => [method, new Tally(plan)]),
  )
  const classes = new Map<DemandClass, Tally>()
  for (let origin = first; origin < first + origins; origin += 1) {
    const from = Math.max(warmUp, origin - horizon - learnFrom + 1)
    const past = windows.flatMap((own) =>
      own.slice(from, origin - horizon + 1).filter((window) => window !== null),
    )
    const choices = new Map(chooseMethods(past).map((choice) => [choice.demandClass, choice]))
    for (const own of windows) {
      const window = own[origin]
      const choice = window && choices.get(window.demandClass)
      if (!window || !choice) continue
      for (const [at, record] of choice.methods.entries())
        tallies.get(record.method)?.add(window, at, record.scores)
      const at = DEMAND_METHODS.indexOf(choice.chosen.method)
      tallies.get('chosen')?.add(window, at, choice.chosen.scores)
      const ofClass = classes.get(window.demandClass) ?? new Tally(plan)
      classes.set(window.demandClass, ofClass)
      ofClass.add(window, at, choice.chosen.scores)
    }
  }
  return {
    series: series.length,
    rows: [...tallies].map(([method, tally]) => tally.row(method)),
    byClass: DEMAND_CLASSES.flatMap((demandClass) => {
      const tally = classes.get(demandClass)
      return tally ? [{ demandClass, ...tally.row('chosen' as const) }] : []
    }),
  }
}

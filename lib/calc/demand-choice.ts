import { conformalBound, conformalQuantile, conformalScore } from './conformal'
import { DEMAND_CLASSES, type DemandClass } from './demand-class'
import { DEMAND_METHODS, type DemandMethod } from './demand-methods'
import { coverage, pinballLoss } from './forecast-accuracy'

/** A past window as it was forecast without seeing it, and what came. Means stand in the order of `DEMAND_METHODS`. */
export type PastWindow = Readonly<{
  demandClass: DemandClass
  means: ArrayLike<number>
  variance: number
  total: number
}>

/** Chances that bounds are read at: what an order is made by. */
export const BOUND_PROBABILITIES = [0.9, 0.95] as const

export type MethodRecord = Readonly<{
  method: DemandMethod
  /** At each of the chances; null where there were too few windows. */
  scores: readonly (number | null)[]
  /** Mean pinball loss at each of the chances. */
  pinball: readonly number[]
  /** Total forecast over total actual; null where nothing came. */
  bias: number | null
}>

export type ClassChoice = Readonly<{
  demandClass: DemandClass
  windows: number
  chosen: MethodRecord
  /** Every method on the same windows, the chosen one among them. */
  methods: readonly MethodRecord[]
  /** Of the chosen method's bounds on the windows they were set by. */
  coverage: readonly Readonly<{ share: number; low: number; high: number }>[]
}>

function boundOf(window: PastWindow, at: number, score: number): number {
  return conformalBound({ mean: window.means[at] ?? 0, variance: window.variance, score })
}

function recordOf(windows: readonly PastWindow[], at: number, method: DemandMethod): MethodRecord {
  const ascending = Float64Array.from(windows, (window) =>
    conformalScore({ mean: window.means[at] ?? 0, variance: window.variance, total: window.total }),
  ).sort()
  const scores = BOUND_PROBABILITIES.map((probability) => conformalQuantile(ascending, probability))
  const highest = ascending[ascending.length - 1] ?? 0
  const pinball = BOUND_PROBABILITIES.map((probability, i) => {
    const score = scores[i] ?? highest
    const losses = windows.map((window) =>
      pinballLoss(boundOf(window, at, score), window.total, probability),
    )
    return losses.reduce((sum, loss) => sum + loss, 0) / losses.length
  })
  const forecast = windows.reduce((sum, window) => sum + (window.means[at] ?? 0), 0)
  const actual = windows.reduce((sum, window) => sum + window.total, 0)
  return { method, scores, pinball, bias: actual > 0 ? forecast / actual : null }
}

const lossOf = (record: MethodRecord) => record.pinball.reduce((sum, loss) => sum + loss, 0)

/**
 * For each class of demand the method whose bounds cost least on past windows, and the scores to read bounds by.
 *
 * Forecasts are judged by what an order needs, the high end, never by absolute error, which a forecast of
 * nought wins. All methods get the same correction. `zero` is compared and never chosen.
 *
 * @param windows of all series, each forecast before it was seen
 * @returns a choice for each class that has windows
 * @source split conformal bounds pooled by class; pinball loss at the chances that orders are made by
 */
export function chooseMethods(windows: readonly PastWindow[]): ClassChoice[] {
  return DEMAND_CLASSES.flatMap((demandClass) => {
    const own = windows.filter((window) => window.demandClass === demandClass)
    if (own.length === 0) return []
    const methods = DEMAND_METHODS.map((method, at) => recordOf(own, at, method))
    const [chosen] = methods
      .filter((record) => record.method !== 'zero')
      .sort((a, b) => lossOf(a) - lossOf(b))
    if (!chosen) return []
    const at = DEMAND_METHODS.indexOf(chosen.method)
    return [
      {
        demandClass,
        windows: own.length,
        chosen,
        methods,
        coverage: chosen.scores.map((score) =>
          coverage({
            held: own.filter(
              (window) => score === null || window.total <= boundOf(window, at, score),
            ).length,
            count: own.length,
          }),
        ),
      },
    ]
  })
}

import { floats, integers } from './reconcile-arrays'
import { walkTransfers } from './reconcile-forest'
import { solverFor } from './reconcile-solver'
import { residualsOf, transfersOf } from './reconcile-transfers'
import type { ComponentProblem } from './reconcile-types'

/** kg: a rise below this is arithmetic, not gas. */
const LEAST_RISE_KG = 1e-9

export type Bounded = {
  values: Float64Array
  totals: Float64Array
  /** 1 for each reading that was tied to another or to nought. */
  isBound: Uint8Array
  rounds: number
}

/** Readings of one filling that are held to one value, and whether that is nought. */
type Ties = { first: Int32Array; isEmpty: Uint8Array }

/**
 * Moves readings and totals by the multipliers of their balances.
 *
 *     x = y − v (λ_opened − λ_closed)    t = T + R λ
 */
export function corrected(
  problem: ComponentProblem,
  multipliers: ArrayLike<number>,
): { values: Float64Array; totals: Float64Array } {
  const { opens, closes, variances, totalVariances } = problem
  const of = (job: number) => (job < 0 ? 0 : (multipliers[job] as number))
  return {
    values: floats(
      problem.values.length,
      (i) =>
        (problem.values[i] as number) -
        (variances[i] as number) * (of(opens[i] as number) - of(closes[i] as number)),
    ),
    totals: floats(
      problem.totals.length,
      (j) =>
        (problem.totals[j] as number) + (totalVariances[j] as number) * (multipliers[j] as number),
    ),
  }
}

/**
 * Holds contents from rising and from going below nought: violated neighbours are tied and all is solved again.
 *
 * @param problem a component whose readings are freed of their gauges' errors
 * @param free the readings as the balances alone moved them
 * @returns readings that never rise within a filling and never are negative, with totals that close
 * @remarks Ends, because each round ties at least one more reading. Variances are those of the solution
 *   without the bounds, which is the wider one.
 * @source pool adjacent violators, the balances solved anew after each round of ties
 */
export function holdFalling(
  problem: ComponentProblem,
  free: { values: Float64Array; totals: Float64Array },
): Bounded {
  const ties: Ties = {
    first: integers(problem.values.length, (i) => i),
    isEmpty: new Uint8Array(problem.values.length),
  }
  let { values, totals } = free
  let rounds = 0
  while (tieViolated(problem, values, ties)) {
    rounds += 1
    const { tied, groupOf } = tiedProblem(problem, ties)
    const matrix = transfersOf(tied)
    const multipliers = solverFor(matrix, walkTransfers(matrix)).solve(residualsOf(tied))
    const moved = corrected(tied, multipliers)
    values = floats(groupOf.length, (i) => moved.values[groupOf[i] as number] as number)
    totals = moved.totals
  }
  return { values, totals, rounds, isBound: boundReadings(ties) }
}

function tieViolated({ before }: ComponentProblem, values: Float64Array, ties: Ties): boolean {
  const { first, isEmpty } = ties
  let isChanged = false
  for (let i = 0; i < values.length; i += 1) {
    const earlier = before[i] as number
    if (earlier >= 0 && (values[i] as number) > (values[earlier] as number) + LEAST_RISE_KG) {
      if ((first[i] as number) !== (first[earlier] as number)) isChanged = true
      first[i] = first[earlier] as number
    } else if (earlier >= 0 && (first[i] as number) !== i) first[i] = first[earlier] as number
    if ((values[i] as number) < -LEAST_RISE_KG && isEmpty[i] !== 1) {
      isEmpty[i] = 1
      isChanged = true
    }
  }
  return isChanged
}

function boundReadings({ first, isEmpty }: Ties): Uint8Array {
  const isBound = Uint8Array.from(isEmpty)
  for (let i = 0; i < first.length; i += 1) {
    if ((first[i] as number) === i) continue
    isBound[i] = 1
    isBound[first[i] as number] = 1
  }
  return isBound
}

/** Each run of tied readings as one, by the mean weighted with 1/variance. */
function tiedProblem(problem: ComponentProblem, { first, isEmpty }: Ties) {
  const count = first.length
  const groupOf = new Int32Array(count)
  const [weights, sums] = [new Float64Array(count), new Float64Array(count)]
  const [opens, closes] = [new Int32Array(count), new Int32Array(count)]
  const empty = new Uint8Array(count)
  let groups = 0
  for (let i = 0; i < count; i += 1) {
    const head = first[i] as number
    const group = head === i ? groups++ : (groupOf[head] as number)
    const weight = 1 / (problem.variances[i] as number)
    groupOf[i] = group
    weights[group] = (weights[group] as number) + weight
    sums[group] = (sums[group] as number) + weight * (problem.values[i] as number)
    empty[group] = (empty[group] as number) | (isEmpty[i] as number)
    opens[group] = problem.opens[i] as number
    if (head === i) closes[group] = problem.closes[i] as number
  }
  const of = (group: number, value: number) => (empty[group] === 1 ? 0 : value)
  const tied: ComponentProblem = {
    ...problem,
    values: sums.subarray(0, groups).map((sum, g) => of(g, sum / (weights[g] as number))),
    variances: weights.subarray(0, groups).map((weight, g) => of(g, 1 / weight)),
    opens: opens.subarray(0, groups),
    closes: closes.subarray(0, groups),
  }
  return { tied, groupOf }
}

import { dot, floats, integers } from './reconcile-arrays'
import { type Bounded, corrected, holdFalling } from './reconcile-bounds'
import { walkTransfers } from './reconcile-forest'
import { quadraticForm } from './reconcile-form'
import { gaugeColumns, withGauges } from './reconcile-gauges'
import { solverFor } from './reconcile-solver'
import { residualsOf, transfersOf } from './reconcile-transfers'
import type { Combination, ComponentProblem, ResidualSystem, Solver } from './reconcile-types'

/** Rounds of ties after which a person should look at the readings. */
const MANY_ROUNDS = 5

/** Jobs that balance together, and how far they are off together. */
export type BlockBalance = { jobs: number[]; statistic: number; degreesOfFreedom: number }

export type ComponentSolution = Bounded & {
  method: Solver['method']
  /** Contents keep rising: more than five rounds of ties. */
  isUnsettled: boolean
  /** Error of each gauge, in its own unit. */
  gaugeErrors: Float64Array
  blocks: BlockBalance[]
  system: ResidualSystem
  /** Variance of a job's total after, kg². */
  totalVariance: (job: number) => number
  /** Variance of a weighted sum of readings, as they came and after, kg². */
  varianceOf: (combination: Combination) => { before: number; after: number }
}

/**
 * Solves one component: readings and totals moved until every job's balance closes, contents never rising.
 *
 * @param problem readings (variances above nought), jobs with totals (variances above nought), gauges
 * @returns readings, totals and gauges' errors after; each block's statistic; variances on demand
 * @source least squares on the graph of hand-overs; see `reconcileDense` for the closed form it equals
 */
export function solveComponent(problem: ComponentProblem): ComponentSolution {
  const matrix = transfersOf(problem)
  const walk = walkTransfers(matrix)
  const columns = gaugeColumns(problem)
  const solver = withGauges(solverFor(matrix, walk), columns, problem.gaugeVariances)
  const residuals = residualsOf(problem)
  const multipliers = solver.solve(residuals)
  const gaugeErrors = floats(
    columns.length,
    (g) => (problem.gaugeVariances[g] as number) * dot(columns[g] ?? [], multipliers),
  )
  const freed: ComponentProblem =
    columns.length === 0 ? problem : { ...problem, values: freedOf(problem, gaugeErrors) }
  const bounded = holdFalling(freed, corrected(freed, multipliers))
  const { solve, inverse, method } = solver
  const system = { size: matrix.size, residuals, multipliers, inverse, solve }
  return {
    ...bounded,
    method,
    isUnsettled: bounded.rounds > MANY_ROUNDS,
    gaugeErrors,
    blocks: blocksOf(joinByGauges(walk.blocks, columns), residuals, multipliers),
    system,
    totalVariance: (job) => totalVariance(problem, system, job),
    varianceOf: (combination) => varianceOf({ problem, columns, system }, combination),
  }
}

function freedOf({ values, gauges, gains }: ComponentProblem, errors: Float64Array): Float64Array {
  return values.map((value, i) =>
    (gauges[i] as number) < 0
      ? value
      : value - (gains[i] as number) * (errors[gauges[i] as number] as number),
  )
}

/** Blocks that share a gauge are one. */
function joinByGauges(blocks: Int32Array, columns: readonly Float64Array[]): Int32Array {
  if (columns.length === 0) return blocks
  const joined = integers(blocks.length, (j) => j)
  const find = (block: number): number =>
    (joined[block] as number) === block ? block : find(joined[block] as number)
  for (const column of columns) {
    let touched = -1
    for (let j = 0; j < column.length; j += 1) {
      if (column[j] === 0) continue
      const root = find(blocks[j] as number)
      if (touched < 0) touched = root
      const [low, high] = [Math.min(touched, root), Math.max(touched, root)]
      joined[high] = low
      touched = low
    }
  }
  return blocks.map((block) => find(block))
}

function blocksOf(
  blocks: Int32Array,
  residuals: Float64Array,
  multipliers: Float64Array,
): BlockBalance[] {
  const found = new Map<number, BlockBalance>()
  for (let j = 0; j < blocks.length; j += 1) {
    const block = found.get(blocks[j] as number) ?? { jobs: [], statistic: 0, degreesOfFreedom: 0 }
    found.set(blocks[j] as number, block)
    block.jobs.push(j)
    block.statistic += (residuals[j] as number) * (multipliers[j] as number)
    block.degreesOfFreedom += 1
  }
  return [...found.values()]
}

function totalVariance(problem: ComponentProblem, system: ResidualSystem, job: number): number {
  const variance = problem.totalVariances[job] as number
  const entry = system.inverse(job, job)
  if (!Number.isNaN(entry)) return Math.max(0, variance - variance ** 2 * entry)
  const unit = new Float64Array(system.size)
  unit[job] = 1
  return Math.max(0, variance - variance ** 2 * (system.solve(unit)[job] as number))
}

const columnOf = (moved: ReadonlyMap<number, number>) =>
  Array.from(moved, ([balance, effect]) => ({ balance, effect }))

/** hᵀ V h, and less (A V h)ᵀ S⁻¹ (A V h). */
function varianceOf(
  known: { problem: ComponentProblem; columns: readonly Float64Array[]; system: ResidualSystem },
  combination: Combination,
): { before: number; after: number } {
  const { problem, columns, system } = known
  const shared = new Float64Array(columns.length)
  const moved = new Map<number, number>()
  const move = (job: number, amount: number) => {
    if (job >= 0) moved.set(job, (moved.get(job) ?? 0) + amount)
  }
  let before = 0
  for (const { reading, weight } of combination) {
    const variance = problem.variances[reading] as number
    before += weight ** 2 * variance
    move(problem.opens[reading] as number, weight * variance)
    move(problem.closes[reading] as number, -weight * variance)
    const gauge = problem.gauges[reading] as number
    if (gauge >= 0)
      shared[gauge] = (shared[gauge] as number) + weight * (problem.gains[reading] as number)
  }
  for (let g = 0; g < shared.length; g += 1) {
    const amount = (problem.gaugeVariances[g] as number) * (shared[g] as number)
    before += amount * (shared[g] as number)
    if (amount === 0) continue
    for (const [j, effect] of columns[g]?.entries() ?? [])
      if (effect !== 0) move(j, amount * effect)
  }
  return { before, after: Math.max(0, before - quadraticForm(system, columnOf(moved))) }
}

import { type DenseBalanced, reconcileDense } from '@/lib/calc/reconcile-dense'
import type { Component } from '@/lib/calc/reconcile-ledger'
import type { ComponentProblem, GasRecord } from '@/lib/calc/reconcile-types'
import { openChance } from '@/seed/random'

export type Columns = { [key in keyof Required<GasRecord>]: number[] }

export const emptyColumns = (): Columns => ({
  fillings: [],
  jobs: [],
  contentsKg: [],
  variances: [],
  gauges: [],
  gains: [],
  totalsKg: [],
  totalVariances: [],
  gaugeVariances: [],
})

type Wanted = {
  seed: string
  jobs: number
  cylinders: number
  /** Job that follows a job: near ones give chains, far ones circles. */
  move: 'path' | 'near' | 'anywhere'
  gauges?: number
  /** Share of jobs without a total. */
  unmeasured?: number
}

/** A clean record: contents fall from 10 kg through some jobs, read with noise; totals of each job with noise. */
export function randomRecord(wanted: Wanted): { record: Columns; usedKg: number[] } {
  const chance = openChance(wanted.seed)
  const record = emptyColumns()
  const { gauges = 0, unmeasured = 0 } = wanted
  const used = new Array<number>(wanted.jobs).fill(0)
  record.gaugeVariances = Array.from({ length: gauges }, () => 0.04)
  const errors = record.gaugeVariances.map((variance) => chance.normal(0, Math.sqrt(variance)))
  for (let filling = 0; filling < wanted.cylinders; filling += 1) {
    let contents = chance.normal(10, 0.05)
    let job = chance.whole(0, wanted.jobs - 1)
    const stays = chance.whole(1, 3)
    for (let n = 0; n <= stays; n += 1) {
      const gauge = n > 0 && gauges > 0 ? chance.whole(0, gauges - 1) : -1
      const u = n === 0 ? 0.05 : 0.25
      if (n > 0) {
        const drop = chance.between(0.1, 0.9) * contents * (n === stays ? 0.8 : 0.5)
        contents -= drop
        used[job] = (used[job] ?? 0) + drop
      }
      record.fillings.push(filling)
      record.jobs.push(n === 0 ? -1 : job)
      record.gauges.push(gauge)
      record.gains.push(1)
      record.contentsKg.push(contents + chance.normal(0, n === 0 ? 0 : u) + (errors[gauge] ?? 0))
      record.variances.push(u * u)
      if (n > 0) job = nextJob(job, wanted, chance.whole)
    }
  }
  for (const kg of used) {
    const u = 0.5 + 0.03 * kg
    const isUnmeasured = chance.happens(unmeasured)
    record.totalsKg.push(isUnmeasured ? Number.NaN : chance.normal(kg, u))
    record.totalVariances.push(isUnmeasured ? Number.NaN : u * u)
  }
  return { record, usedKg: used }
}

function nextJob(
  job: number,
  { move, jobs }: Wanted,
  whole: (low: number, high: number) => number,
) {
  if (move === 'path') return Math.min(jobs - 1, job + whole(0, 1))
  return move === 'near' ? (job + whole(0, 3)) % jobs : whole(0, jobs - 1)
}

/** The same component by the closed form, gauges as blocks of the covariance: readings first, then totals. */
export function denseOf(problem: ComponentProblem): DenseBalanced {
  const [n, m] = [problem.values.length, problem.totals.length]
  const balances = Array.from({ length: m }, (_, j) => [
    ...Array.from(
      problem.values,
      (_value, i) => Number(problem.opens[i] === j) - Number(problem.closes[i] === j),
    ),
    ...Array.from({ length: m }, (_value, k) => (j === k ? -1 : 0)),
  ])
  const variances = [...problem.variances, ...problem.totalVariances]
  const covariance = variances.map((variance, i) =>
    variances.map((_, j) => {
      const own = i === j ? variance : 0
      if (i >= n || j >= n || problem.gauges[i] === -1 || problem.gauges[i] !== problem.gauges[j])
        return own
      const prior = problem.gaugeVariances[problem.gauges[i] ?? -1] ?? 0
      return own + (problem.gains[i] ?? 0) * (problem.gains[j] ?? 0) * prior
    }),
  )
  return reconcileDense({
    balances,
    readings: [...problem.values, ...problem.totals],
    covariance,
  })
}

/** Largest distance between a component's multipliers and, where no bound was met, readings, and the closed form. */
export function distanceFromDense({ problem, solution }: Component): number {
  const dense = denseOf(problem)
  const far = (values: Iterable<number>, wanted: ArrayLike<number>) =>
    [...values].reduce(
      (most, value, i) => Math.max(most, Math.abs(value - (wanted[i] ?? Number.NaN))),
      0,
    )
  const multipliers = far(Array.from(solution.system.multipliers), dense.system.multipliers)
  if (solution.rounds > 0) return multipliers
  return Math.max(multipliers, far([...solution.values, ...solution.totals], dense.reconciled))
}

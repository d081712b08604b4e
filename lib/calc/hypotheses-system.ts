import { type Expected, expectedOf } from './hypotheses-expected'
import { type Stretches, stretchesOf } from './hypotheses-stretches'
import type { Trail } from './hypotheses-types'
import { type Ledger, openLedger } from './reconcile-ledger'
import type { ResidualSystem } from './reconcile-types'
import { placeOf } from './reconcile-usage'

export type TrailSystem = Stretches & {
  /** What each stretch should have taken. */
  expected: Expected[]
  ledger: Ledger
  /** All components as one: a cause may speak of cylinders that never met. */
  system: ResidualSystem
}

/** The balances of a trail, solved. @throws {CalcError} as `stretchesOf` */
export function openTrail(trail: Trail): TrailSystem {
  const parted = stretchesOf(trail)
  const expected = expectedOf(parted, trail.readings)
  const ledger = openLedger({
    fillings: parted.fillings,
    jobs: parted.stretchOf,
    contentsKg: trail.readings.map((reading) => reading.gasKg),
    variances: trail.readings.map((reading) => reading.standardUncertaintyKg ** 2),
    totalsKg: expected.map((one) => one.kg),
    totalVariances: expected.map((one) => one.variance),
  })
  return { ...parted, expected, ledger, system: unite(ledger, parted.stretches.length) }
}

/** Components side by side: nothing is shared between two of them, and what is not balanced is in none. */
function unite(ledger: Ledger, size: number): ResidualSystem {
  const components = ledger.components().filter((one) => one.jobs.length > 0)
  const partOf = new Int32Array(size).fill(-1)
  const localOf = new Int32Array(size)
  const [residuals, multipliers] = [new Float64Array(size), new Float64Array(size)]
  components.forEach(({ jobs, solution }, part) => {
    for (const job of jobs) {
      const local = placeOf(jobs, job)
      partOf[job] = part
      localOf[job] = local
      residuals[job] = solution.system.residuals[local] as number
      multipliers[job] = solution.system.multipliers[local] as number
    }
  })
  return {
    size,
    residuals,
    multipliers,
    inverse: (row, column) =>
      partOf[row] === partOf[column] && (partOf[row] as number) >= 0
        ? (components[partOf[row] as number]?.solution.system.inverse(
            localOf[row] as number,
            localOf[column] as number,
          ) ?? Number.NaN)
        : 0,
    solve: (column) => {
      const x = new Float64Array(size)
      const touched = new Set<number>()
      for (let job = 0; job < size; job += 1)
        if (column[job] !== 0 && (partOf[job] as number) >= 0) touched.add(partOf[job] as number)
      for (const part of touched) {
        const { jobs, solution } = components[part] as (typeof components)[number]
        const solved = solution.system.solve(
          Float64Array.from(jobs, (job) => column[job] as number),
        )
        jobs.forEach((job, local) => {
          x[job] = solved[local] as number
        })
      }
      return x
    },
  }
}

import type { GasRecord } from '@/lib/calc/reconcile-types'
import { openChance } from '@/seed/random'

const READINGS_A_CYLINDER = 10
const CYLINDERS_A_JOB = 10
/** Places in a filling at which the cylinder goes on to the next job. */
const HANDED_OVER = new Set([3, 6])

/** Cylinders that fall from 10 kg over ten readings and three neighbouring jobs, in columns. */
export function gasRecordOf(readings: number): GasRecord & { totalsKg: Float64Array } {
  const chance = openChance(`record of ${readings}`)
  const cylinders = readings / READINGS_A_CYLINDER
  const jobCount = cylinders / CYLINDERS_A_JOB
  const [fillings, jobs] = [new Int32Array(readings), new Int32Array(readings)]
  const [contentsKg, variances] = [new Float64Array(readings), new Float64Array(readings)]
  const used = new Float64Array(jobCount)
  for (let place = 0; place < readings; place += 1) {
    const cylinder = Math.floor(place / READINGS_A_CYLINDER)
    const nth = place % READINGS_A_CYLINDER
    const handed = [...HANDED_OVER].filter((at) => nth > at).length
    const job = (Math.floor(cylinder / CYLINDERS_A_JOB) + handed) % jobCount
    // A tenth of ten kilograms between each two, a little more or less: contents are known to a quarter.
    const kg = 10 - nth * 0.95
    if (nth > 0) used[job] = (used[job] as number) + 0.95
    fillings[place] = cylinder
    jobs[place] = nth === 0 ? -1 : job
    contentsKg[place] = kg + chance.between(-0.4, 0.4)
    variances[place] = nth === 0 ? 0.0025 : 0.0625
  }
  return {
    fillings,
    jobs,
    contentsKg,
    variances,
    totalsKg: used.map((kg) => kg * chance.between(0.97, 1.03)),
    totalVariances: used.map((kg) => (0.03 * kg + 0.5) ** 2),
  }
}

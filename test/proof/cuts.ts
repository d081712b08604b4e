import { prepareCut } from '@/lib/calc/cut-check'
import { cutNumbers, emptyNumbers } from '@/lib/calc/cut-numbers'
import { emptyRuns } from '@/lib/calc/cut-runs'
import { cutCheck, type EstimateContext, estimateContext } from '@/lib/calc/estimate-context'
import { estimateTotals } from '@/lib/calc/estimate-totals'
import type { CutInput } from '@/lib/calc/estimate-types'
import { LIGHT_UP_RELATIVE_U } from '@/lib/calc/judgements'
import { sectionNames } from '@/lib/calc/sections/named-section'

export const name = 'The 90 % interval of a job holds what it takes nine times in ten'

const JOBS = 20_500
const CUTS_A_JOB = 50
const HOLDS = { least: 0.89, most: 0.91 }

/** Mulberry32: the same jobs on every machine. */
function random(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
}

function gaussian(next: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())
}

/** Gamma of mean 1: single cuts scatter by another law than the interval's own. @source Marsaglia, Tsang 2000 */
function gamma(next: () => number, cv: number): number {
  const shape = 1 / cv ** 2
  const d = shape - 1 / 3
  for (;;) {
    const z = gaussian(next)
    const v = (1 + z / Math.sqrt(9 * d)) ** 3
    if (v > 0 && Math.log(1 - next()) < 0.5 * z * z + d - d * v + d * Math.log(v))
      return (d * v) / shape
  }
}

const BEAMS = sectionNames('wShape')
const POSITIONS = ['flat', 'horizontal', 'vertical', 'overhead'] as const

function randomCut(next: () => number, index: number): CutInput {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)] as T
  const thicknessM = 0.0032 * (0.3 / 0.0032) ** next()
  const shape: CutInput['shape'] =
    next() < 0.7
      ? { kind: 'plate', thicknessM, lengthM: 0.05 + 5 * next() }
      : { kind: 'wShape', designation: pick(BEAMS) }
  return {
    id: String(index),
    material: 'carbon_steel',
    shape,
    count: 1 + Math.floor(20 * next()),
    position: pick(POSITIONS),
    process: next() < 0.8 ? 'hand' : 'machine',
    conditions: next() < 0.3 ? ['dirty'] : [],
    pierced: next() < 0.2,
  }
}

const FUELS = ['acetylene', 'propane', 'natural_gas'] as const

function contextOf(next: () => number): EstimateContext {
  const fuel = FUELS[Math.floor(next() * FUELS.length)] ?? 'acetylene'
  const crew =
    next() < 0.5 ? null : { mean: 0.7 + next(), standardUncertainty: 0.02 + 0.2 * next() }
  const outcome = estimateContext({ fuel, ...(crew ? { crewFactor: crew } : {}) })
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome.context
}

/** Lognormal of mean 1 and this relative deviation, at the job's common draw. */
function common(relativeU: number, z: number): number {
  const sigma2 = Math.log1p(relativeU ** 2)
  return Math.exp(Math.sqrt(sigma2) * z - sigma2 / 2)
}

type Truth = { oxygenKg: number; fuelKg: number; torchS: number }

/**
 * What a job takes, one draw: one crew and one table for all its cuts, each cut with its own scatter, the
 * single cuts of a batch drawn one by one.
 */
function drawTruth(cuts: readonly CutInput[], context: EstimateContext, next: () => number): Truth {
  const z = gaussian(next)
  const crew = context.settings.crewFactor
  const doubt = (mean: number, u: number) =>
    common(crew ? crew.standardUncertainty / crew.mean : mean > 0 ? u / mean : 0, z)
  const check = cutCheck(context.chart)
  const [runs, one] = [emptyRuns(), emptyNumbers()]
  const truth = { oxygenKg: 0, fuelKg: 0, torchS: 0 }
  for (const [index, cut] of cuts.entries()) {
    if (!prepareCut(cut, index, check, runs)) throw new Error(JSON.stringify(check.refusals))
    cutNumbers(cut, runs, context, one)
    let scatter = 0
    for (let i = 0; i < one.remaining; i += 1) scatter += gamma(next, context.judged.cutScatter)
    scatter /= one.remaining
    const seconds = one.cuttingS + one.startS + one.idleS
    truth.oxygenKg += one.oxygenKg * scatter * doubt(one.oxygenKg, one.oxygenCommonKg)
    truth.fuelKg += one.fuelKg * scatter * doubt(one.fuelKg, one.fuelCommonKg)
    truth.torchS += seconds * scatter * doubt(seconds, one.timeCommonS)
  }
  return addLightUps(truth, cuts, context, doubt(1, LIGHT_UP_RELATIVE_U))
}

function addLightUps(
  truth: Truth,
  cuts: readonly CutInput[],
  context: EstimateContext,
  factor: number,
): Truth {
  const { oxygen, fuel, time } = estimateTotals(cuts, context)
  return {
    oxygenKg: truth.oxygenKg + oxygen.terms.lightUp * factor,
    fuelKg: truth.fuelKg + fuel.terms.lightUp * factor,
    torchS: truth.torchS + time.lightUpS * factor,
  }
}

export async function run() {
  const next = random(1916)
  const held = { oxygen: 0, fuel: 0, time: 0 }
  const failures: string[] = []
  let cases = 0
  for (let job = 0; job < JOBS; job += 1) {
    const context = contextOf(next)
    const cuts = Array.from({ length: CUTS_A_JOB }, (_, i) => randomCut(next, i)).filter(
      (cut) => estimateTotals([cut], context).refused.length === 0,
    )
    cases += cuts.length
    const totals = estimateTotals(cuts, context)
    const truth = drawTruth(cuts, context, next)
    const holds = (value: number, { low90, high90 }: { low90: number; high90: number }) =>
      value >= low90 && value <= high90 ? 1 : 0
    held.oxygen += holds(truth.oxygenKg, totals.oxygen)
    held.fuel += holds(truth.fuelKg, totals.fuel)
    held.time += holds(truth.torchS, totals.time.torch)
    if (totals.oxygen.low90 < totals.oxygenFloorKg) failures.push(`job ${job} is below its floor`)
  }
  for (const [what, count] of Object.entries(held)) {
    const share = count / JOBS
    console.log(`${what}: ${(100 * share).toFixed(2)} % of ${JOBS} jobs`)
    if (!(share >= HOLDS.least && share <= HOLDS.most))
      failures.push(`the interval of ${what} held ${(100 * share).toFixed(2)} %`)
  }
  return { cases, failures }
}

import { prepareCut } from './cut-check'
import { type CutNumbers, cutNumbers, emptyNumbers } from './cut-numbers'
import { emptyRuns } from './cut-runs'
import { cutCheck, type EstimateContext } from './estimate-context'
import type { CutInput, CutTime } from './estimate-types'
import { LIGHT_UP_RELATIVE_U, LIT_SECONDS_PER_LIGHT_UP } from './judgements'
import type { Refusal } from './refusal'
import type { Interval90 } from './source'
import { lognormalInterval } from './stats'

/** Numbers of the cuts, added up; each a sum or a largest, so that lists can be joined. */
export type Sums = {
  cuts: number
  remaining: number
  cuttingS: number
  startS: number
  idleS: number
  timeCommonS: number
  timeOwnS2: number
  oxygenCuttingKg: number
  oxygenPreheatKg: number
  oxygenStartKg: number
  oxygenIdleKg: number
  oxygenCommonKg: number
  oxygenOwnKg2: number
  fuelPreheatKg: number
  fuelStartKg: number
  fuelIdleKg: number
  fuelCommonKg: number
  fuelOwnKg2: number
  floorKg: number
  richFuelM3PerS: number
  heaviestKg: number
  toRig: number
  isFloored: boolean
  isJudged: boolean
}

/** Sums of no cuts. */
export function emptySums(): Sums {
  return {
    cuts: 0,
    remaining: 0,
    cuttingS: 0,
    startS: 0,
    idleS: 0,
    timeCommonS: 0,
    timeOwnS2: 0,
    oxygenCuttingKg: 0,
    oxygenPreheatKg: 0,
    oxygenStartKg: 0,
    oxygenIdleKg: 0,
    oxygenCommonKg: 0,
    oxygenOwnKg2: 0,
    fuelPreheatKg: 0,
    fuelStartKg: 0,
    fuelIdleKg: 0,
    fuelCommonKg: 0,
    fuelOwnKg2: 0,
    floorKg: 0,
    richFuelM3PerS: 0,
    heaviestKg: 0,
    toRig: 0,
    isFloored: false,
    isJudged: false,
  }
}

/** Adds the numbers of one cut. */
export function addNumbers(sums: Sums, one: CutNumbers, rigAboveKg: number): void {
  sums.cuts += 1
  sums.remaining += one.remaining
  sums.cuttingS += one.cuttingS
  sums.startS += one.startS
  sums.idleS += one.idleS
  sums.timeCommonS += one.timeCommonS
  sums.timeOwnS2 += one.timeOwnS * one.timeOwnS
  sums.oxygenCuttingKg += one.oxygenCuttingKg
  sums.oxygenPreheatKg += one.oxygenPreheatKg
  sums.oxygenStartKg += one.oxygenStartKg
  sums.oxygenIdleKg += one.oxygenIdleKg
  sums.oxygenCommonKg += one.oxygenCommonKg
  sums.oxygenOwnKg2 += one.oxygenOwnKg * one.oxygenOwnKg
  sums.fuelPreheatKg += one.fuelPreheatKg
  sums.fuelStartKg += one.fuelStartKg
  sums.fuelIdleKg += one.fuelIdleKg
  sums.fuelCommonKg += one.fuelCommonKg
  sums.fuelOwnKg2 += one.fuelOwnKg * one.fuelOwnKg
  sums.floorKg += one.floorKg
  if (one.richFuelM3PerS > sums.richFuelM3PerS) sums.richFuelM3PerS = one.richFuelM3PerS
  if (one.remaining > 0 && one.pieceKg > sums.heaviestKg) sums.heaviestKg = one.pieceKg
  if (one.pieceKg > rigAboveKg) sums.toRig += one.remaining
  if (one.floorBinds) sums.isFloored = true
  if (one.multiplier > 1 || one.startMultiplier > 1) sums.isJudged = true
}

export type JobTime = CutTime & {
  lightUpS: number
  lightUps: number
  /** From piece to piece with the torch out, where it was given apart. */
  travelS: number
  /** With a flame lit, one torch after another, and what that takes of a working day. */
  torchS: number
  elapsedS: number
  torch: Interval90
  elapsed: Interval90
}

/** Terms of a gas, kg; they add up to the mean. */
export type JobGas = Interval90 & {
  terms: { cutting: number; preheat: number; start: number; lightUp: number; idle: number }
  commonKg: number
}

export type EstimateTotals = {
  /** Entries that were estimated, and cuts of them still to do. */
  cuts: number
  remaining: number
  /** Places in the list, from 0, of entries that were refused, and why. */
  refused: readonly number[]
  refusals: readonly Refusal[]
  oxygen: JobGas
  fuel: JobGas
  oxygenFloorKg: number
  time: JobTime
  richFuelM3PerS: number
  /** Heaviest piece that comes down, 0 when none is known, and how many must be rigged. */
  heaviestKg: number
  toRig: number
  isFloored: boolean
  isJudged: boolean
}

/**
 * What a list of cuts takes in all, without the sources of the single numbers: for live totals.
 *
 * The table's ranges and the crew's factor are common to the whole job, so their part of the uncertainty adds
 * straight over the cuts; the scatter of single cuts adds in quadrature. The 90 % interval is lognormal: it
 * holds the mean and never reaches nothing.
 *
 * @param cuts entries; one that is refused is left out and named
 * @param context of `estimateContext`
 * @returns totals (kg, s); the same numbers as `estimateCutList` gives for the cuts that it takes
 */
export function estimateTotals(
  cuts: readonly CutInput[],
  context: EstimateContext,
): EstimateTotals {
  const check = cutCheck(context.chart)
  const sums = emptySums()
  const runs = emptyRuns()
  const numbers = emptyNumbers()
  const refused: number[] = []
  for (let i = 0; i < cuts.length; i += 1) {
    const cut = cuts[i] as CutInput
    if (!prepareCut(cut, i, check, runs)) {
      refused.push(i)
      continue
    }
    cutNumbers(cut, runs, context, numbers)
    addNumbers(sums, numbers, context.judged.rigAbove)
  }
  return { ...totalsOf(sums, context), refused, refusals: check.refusals }
}

/** Totals of sums, with the job's own light-ups. */
export function totalsOf(
  sums: Sums,
  context: EstimateContext,
): Omit<EstimateTotals, 'refused' | 'refusals'> {
  const time = jobTime(sums, context)
  const fuelM3 = sums.richFuelM3PerS * time.lightUpS
  const lightUp = {
    oxygen: fuelM3 * context.preheatRatio * context.oxygenKgPerM3,
    fuel: fuelM3 * context.fuelKgPerM3,
  }
  const oxygen = jobGas(
    {
      cutting: sums.oxygenCuttingKg,
      preheat: sums.oxygenPreheatKg,
      start: sums.oxygenStartKg,
      lightUp: lightUp.oxygen,
      idle: sums.oxygenIdleKg,
    },
    { commonKg: sums.oxygenCommonKg, ownKg2: sums.oxygenOwnKg2 },
    context,
  )
  const fuel = jobGas(
    {
      cutting: 0,
      preheat: sums.fuelPreheatKg,
      start: sums.fuelStartKg,
      lightUp: lightUp.fuel,
      idle: sums.fuelIdleKg,
    },
    { commonKg: sums.fuelCommonKg, ownKg2: sums.fuelOwnKg2 },
    context,
  )
  const { cuts, remaining, richFuelM3PerS, heaviestKg, toRig, isFloored, isJudged } = sums
  return {
    cuts,
    remaining,
    oxygen: { ...oxygen, low90: Math.max(sums.floorKg, oxygen.low90) },
    fuel,
    oxygenFloorKg: sums.floorKg,
    time,
    richFuelM3PerS,
    heaviestKg,
    toRig,
    isFloored,
    isJudged,
  }
}

function jobTime(sums: Sums, { settings, judged, factor }: EstimateContext): JobTime {
  const { cuttingS, startS, idleS } = sums
  const litS = cuttingS + startS + idleS
  const lightUps = settings.lightUps ?? Math.ceil(litS / LIT_SECONDS_PER_LIGHT_UP)
  const lightUpS = lightUps * judged.lightUp * factor
  const torchS = litS + lightUpS
  const travelS = (settings.travelSPerCut ?? 0) * sums.remaining
  const torches = settings.torches ?? 1
  const perTorch = 1 / (settings.operatingFactor ?? judged.operatingFactor) / torches
  const common = commonU(torchS, sums.timeCommonS + LIGHT_UP_RELATIVE_U * lightUpS, settings)
  const u = Math.sqrt(common ** 2 + sums.timeOwnS2)
  const elapsedS = torchS * perTorch + travelS / torches
  return {
    cuttingS,
    startS,
    idleS,
    lightUps,
    lightUpS,
    travelS,
    torchS,
    elapsedS,
    torch: lognormalInterval({ mean: torchS, standardUncertainty: u }),
    elapsed: lognormalInterval({ mean: elapsedS, standardUncertainty: u * perTorch }),
  }
}

/** A crew whose use is known replaces the doubt about the table by the doubt about its factor. */
function commonU(
  mean: number,
  byTable: number,
  { crewFactor: crew }: EstimateContext['settings'],
): number {
  return crew ? (mean * crew.standardUncertainty) / crew.mean : byTable
}

function jobGas(
  terms: JobGas['terms'],
  doubt: { commonKg: number; ownKg2: number },
  context: EstimateContext,
): JobGas {
  const { cutting, preheat, start, lightUp, idle } = terms
  const mean = cutting + preheat + start + idle + lightUp
  const commonKg = commonU(mean, doubt.commonKg + LIGHT_UP_RELATIVE_U * lightUp, context.settings)
  const standardUncertainty = Math.sqrt(commonKg ** 2 + doubt.ownKg2)
  return { ...lognormalInterval({ mean, standardUncertainty }), terms, commonKg }
}

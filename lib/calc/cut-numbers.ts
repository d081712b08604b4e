import { type ChartCurves, emptySettings, lookUp, type Settings } from './chart-curves'
import { type CutRuns, pieceKgOf, STEEL_KG_PER_M3 } from './cut-runs'
import { pierceSeconds, preheatSeconds, startMultiplier, timeMultiplier } from './cut-times'
import type { EstimateContext } from './estimate-context'
import type { CutInput, OwnSettings } from './estimate-types'
import type { FuelCode } from './gas-data'
import { OWN_SETTINGS_RELATIVE_U, START_RELATIVE_U } from './judgements'
import type { Material } from './materials'
import { checkedFloorKg, narrowKerfMm } from './oxygen-floor'

/*
 * The numbers of one cut, and nothing but numbers: what the totals of a long list add up and what a traced
 * estimate shows with its sources. There is no second way to them.
 */

/** Of all the cuts of one entry still to do: s, kg, and standard uncertainties in the same units. */
export type CutNumbers = {
  remaining: number
  multiplier: number
  startMultiplier: number
  cuttingS: number
  startS: number
  idleS: number
  /** Doubt that all cuts of a job share, and that of this cut alone. */
  timeCommonS: number
  timeOwnS: number
  oxygenCuttingKg: number
  oxygenPreheatKg: number
  oxygenStartKg: number
  oxygenIdleKg: number
  oxygenKg: number
  oxygenCommonKg: number
  oxygenOwnKg: number
  fuelPreheatKg: number
  fuelStartKg: number
  fuelIdleKg: number
  fuelKg: number
  fuelCommonKg: number
  fuelOwnKg: number
  floorKg: number
  floorBinds: boolean
  richFuelM3PerS: number
  /** Of what one cut brings down; NaN when it is not known. */
  pieceKg: number
}

/** A place for `cutNumbers` to write into, used over and over. */
export function emptyNumbers(): CutNumbers {
  return {
    remaining: 0,
    multiplier: 1,
    startMultiplier: 1,
    cuttingS: 0,
    startS: 0,
    idleS: 0,
    timeCommonS: 0,
    timeOwnS: 0,
    oxygenCuttingKg: 0,
    oxygenPreheatKg: 0,
    oxygenStartKg: 0,
    oxygenIdleKg: 0,
    oxygenKg: 0,
    oxygenCommonKg: 0,
    oxygenOwnKg: 0,
    fuelPreheatKg: 0,
    fuelStartKg: 0,
    fuelIdleKg: 0,
    fuelKg: 0,
    fuelCommonKg: 0,
    fuelOwnKg: 0,
    floorKg: 0,
    floorBinds: false,
    richFuelM3PerS: 0,
    pieceKg: Number.NaN,
  }
}

const SETTINGS: Settings = emptySettings()

/** Speed and flows for a run: the user's own, or the chart's. */
export function runSettings(
  cut: CutInput,
  pathM: number,
  curves: ChartCurves,
  into: Settings,
): void {
  if (cut.own) ownSettings(cut.own, pathM, curves.fuel, into)
  else lookUp(curves, pathM, into)
}

function ownSettings(own: OwnSettings, pathM: number, fuel: FuelCode, into: Settings): void {
  into.speedMPerS = own.areaM2PerS ?? own.speedMPerS ?? 0
  into.cuttingOxygenM3PerS = own.cuttingOxygenM3PerS
  into.fuelM3PerS = own.fuelM3PerS
  into.richFuelM3PerS = own.fuelM3PerS
  into.oxygenU = OWN_SETTINGS_RELATIVE_U
  into.fuelU = OWN_SETTINGS_RELATIVE_U
  into.timeU = OWN_SETTINGS_RELATIVE_U
  into.preheatS = preheatSeconds(pathM, fuel)
  into.kerfMm = narrowKerfMm(pathM)
}

/**
 * Time and gas of one entry of a cut list, for the cuts still to do.
 *
 * Gas is flow x time, preheat oxygen a ratio of the fuel. Impure oxygen lengthens the cut and is used by length.
 * Errors of one crew and one table run together, so they add straight over the runs; the scatter of single
 * cuts averages out over a batch of like ones. The jet's oxygen is never below the floor.
 *
 * @param cut checked by `prepareCut`, which filled `runs`
 * @param into where the numbers are written
 * @source `chartCurves`, `cut-times`, `oxygenFloorKg`
 */
export function cutNumbers(
  cut: CutInput,
  runs: CutRuns,
  context: EstimateContext,
  into: CutNumbers,
): void {
  const remaining = cut.count - (cut.doneCount ?? 0)
  into.remaining = remaining
  into.multiplier = timeMultiplier(cut, context.judged)
  into.startMultiplier = startMultiplier(cut, context.judged)
  clear(into)
  const restartsPerM = restartsPerMetre(cut, runs, context)
  const curves = cut.process === 'machine' ? context.curves.machine : context.curves.hand
  const { metal } = runs
  const isFloored = burnsThrough(metal, cut, runs, context)
  for (let i = 0; i < runs.n; i += 1)
    addRun(cut, runs, i, curves, restartsPerM, isFloored, context, into)
  finish(context, into)
  into.pieceKg = pieceKgOf(cut, runs, metal?.densityKgPerM3 ?? STEEL_KG_PER_M3)
}

function clear(into: CutNumbers): void {
  into.cuttingS = 0
  into.startS = 0
  into.timeCommonS = 0
  into.oxygenCuttingKg = 0
  into.oxygenStartKg = 0
  into.oxygenCommonKg = 0
  into.fuelPreheatKg = 0
  into.fuelStartKg = 0
  into.fuelCommonKg = 0
  into.floorKg = 0
  into.richFuelM3PerS = 0
}

/** Times that a cut is broken off, per metre of it. */
function restartsPerMetre(cut: CutInput, runs: CutRuns, context: EstimateContext): number {
  if (runs.isArea) return 0
  if (cut.restarts === undefined)
    return cut.process === 'machine' ? 0 : context.judged.handRestartsPerM
  let lengthM = 0
  for (let i = 0; i < runs.n; i += 1)
    lengthM += (runs.count[i] as number) * (runs.lengthM[i] as number)
  return cut.restarts / lengthM
}

function addRun(
  cut: CutInput,
  runs: CutRuns,
  i: number,
  curves: ChartCurves,
  restartsPerM: number,
  isFloored: boolean,
  context: EstimateContext,
  into: CutNumbers,
): void {
  const { judged, purity, oxygenKgPerM3, fuelKgPerM3, flameOxygenPerFuel } = context
  const pathM = runs.pathM[i] as number
  const starts = (runs.count[i] as number) * into.remaining
  const lengthM = (runs.lengthM[i] as number) * starts
  runSettings(cut, pathM, curves, SETTINGS)
  const baseS = (lengthM / SETTINGS.speedMPerS) * into.multiplier
  const cuttingS = baseS * purity.time
  const burningS = cuttingS * (1 + context.idleFraction)
  const isPierced = cut.pierced ?? runs.isClosed
  const preheatS =
    SETTINGS.preheatS *
    into.startMultiplier *
    ((isPierced ? 1 : judged.edgeStart) * starts + judged.restart * restartsPerM * lengthM)
  const pierceS = isPierced ? pierceSeconds(pathM) * starts : 0
  const startS = preheatS + pierceS
  const fuelKgPerS = SETTINGS.fuelM3PerS * fuelKgPerM3
  const jetKgPerS = SETTINGS.cuttingOxygenM3PerS * oxygenKgPerM3
  // Impure oxygen is counted by length, not by time.
  const jetKg = jetKgPerS * baseS * purity.oxygenPerLength
  const fuelBurningKg = fuelKgPerS * burningS
  const fuelStartKg = fuelKgPerS * startS
  const startKg = fuelStartKg * flameOxygenPerFuel + jetKgPerS * pierceS
  const flameU = Math.sqrt(SETTINGS.fuelU ** 2 + context.preheatRatioU ** 2)
  into.cuttingS += cuttingS
  into.startS += startS
  into.timeCommonS += SETTINGS.timeU * burningS + START_RELATIVE_U * startS
  into.oxygenCuttingKg += jetKg
  into.oxygenStartKg += startKg
  into.oxygenCommonKg +=
    SETTINGS.oxygenU * jetKg + flameU * (fuelBurningKg * flameOxygenPerFuel + startKg)
  into.fuelPreheatKg += fuelKgPerS * cuttingS
  into.fuelStartKg += fuelStartKg
  into.fuelCommonKg += SETTINGS.fuelU * (fuelBurningKg + fuelStartKg)
  if (isFloored) into.floorKg += checkedFloorKg(lengthM, pathM, SETTINGS.kerfMm)
  if (into.remaining > 0 && SETTINGS.richFuelM3PerS > into.richFuelM3PerS)
    into.richFuelM3PerS = SETTINGS.richFuelM3PerS
}

/** Iron cut by its own burning: a lance melts the other metals out, and a gouge washes much away unburnt. */
function burnsThrough(
  metal: Material | undefined,
  cut: CutInput,
  runs: CutRuns,
  context: EstimateContext,
): boolean {
  if (runs.isArea || metal === undefined) return false
  return metal.isIron && (metal.cuttable || context.chart.materials.includes(cut.material))
}

/** The crew's factor, and what follows from the sums: the idle flame's share, the flame's oxygen, the floor. */
function finish(context: EstimateContext, into: CutNumbers): void {
  const { factor, judged, idleFraction, flameOxygenPerFuel } = context
  into.cuttingS *= factor
  into.startS *= factor
  into.idleS = into.cuttingS * idleFraction
  into.timeCommonS *= factor
  into.fuelPreheatKg *= factor
  into.fuelStartKg *= factor
  into.fuelIdleKg = into.fuelPreheatKg * idleFraction
  into.fuelCommonKg *= factor
  into.oxygenPreheatKg = into.fuelPreheatKg * flameOxygenPerFuel
  into.oxygenStartKg *= factor
  into.oxygenIdleKg = into.fuelIdleKg * flameOxygenPerFuel
  into.oxygenCommonKg *= factor
  const jetKg = into.oxygenCuttingKg * factor
  into.floorBinds = jetKg < into.floorKg
  into.oxygenCuttingKg = into.floorBinds ? into.floorKg : jetKg
  into.oxygenKg =
    into.oxygenCuttingKg + into.oxygenPreheatKg + into.oxygenStartKg + into.oxygenIdleKg
  into.fuelKg = into.fuelPreheatKg + into.fuelStartKg + into.fuelIdleKg
  const scatter = into.remaining > 0 ? judged.cutScatter / Math.sqrt(into.remaining) : 0
  into.timeOwnS = scatter * (into.cuttingS + into.startS + into.idleS)
  into.oxygenOwnKg = scatter * into.oxygenKg
  into.fuelOwnKg = scatter * into.fuelKg
}

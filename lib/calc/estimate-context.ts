import { type ChartCurves, chartCurves } from './chart-curves'
import type { CutCheck } from './cut-check'
import { PURITY_PCT, purityFactors } from './cut-times'
import { settingsRefusals } from './estimate-check'
import type { EstimateSettings } from './estimate-types'
import { type FuelCode, GASES, isFuelCode, standardDensityKgPerM3 } from './gas-data'
import { type Judged, judgedWith } from './judgements'
import { type Refused, refuse } from './refusal'
import type { Provenance } from './source'
import { OFC_CARBON_STEEL } from './tables/ofc-carbon-steel'
import type { TipChart } from './tables/tip-chart'
import { chartRangeM } from './tip-settings'

/** Settings checked and worked out once, so that a cut is only multiplications. */
export type EstimateContext = {
  settings: EstimateSettings
  chart: TipChart
  fuel: FuelCode
  judged: Judged
  purity: { time: number; oxygenPerLength: number }
  /** The crew's use over the table's. */
  factor: number
  idleFraction: number
  curves: { hand: ChartCurves; machine: ChartCurves }
  oxygenKgPerM3: number
  fuelKgPerM3: number
  preheatRatio: number
  preheatRatioU: number
  /** Oxygen that the torch supplies to the flame per kilogram of fuel. */
  flameOxygenPerFuel: number
}

/** A new place for the refusals of a list's cuts. */
export function cutCheck(chart: TipChart): CutCheck {
  const { min, max } = chartRangeM(chart)
  return {
    chartMaterials: chart.materials,
    material: '',
    metal: undefined,
    isOfChart: false,
    minPathM: min,
    maxPathM: max,
    refusals: [],
    index: 0,
  }
}

/**
 * Checks the settings of an estimate and works out what is common to its cuts.
 *
 * @param settings fuel, chart, purity, judged figures and the like; all in SI
 * @returns the context for `estimateTotals`, or every refusal at once
 */
export function estimateContext(
  settings: EstimateSettings,
): { ok: true; context: EstimateContext } | Refused {
  const chart = settings.tipChart ?? OFC_CARBON_STEEL
  const refusals = settingsRefusals(settings, chart)
  const { fuel } = settings
  if (refusals.length > 0 || !isFuelCode(fuel)) return refuse(refusals)
  const judged = judgedWith(settings.judgements)
  const ratio = preheatRatio(fuel)
  const [oxygenKgPerM3, fuelKgPerM3] = [
    standardDensityKgPerM3('oxygen'),
    standardDensityKgPerM3(fuel),
  ]
  const ownFuelFlowM3PerS = settings.ownFuelFlowM3PerS
  const curves = (place: number) => chartCurves({ chart, fuel, place, ownFuelFlowM3PerS })
  return {
    ok: true,
    context: {
      settings,
      chart,
      fuel,
      judged,
      purity: purityFactors(settings.oxygenPurityPct ?? PURITY_PCT.normal),
      factor: settings.crewFactor?.mean ?? 1,
      idleFraction: settings.idleFlameFraction ?? judged.idleFlame,
      curves: { hand: curves(judged.handPlace), machine: curves(judged.machinePlace) },
      oxygenKgPerM3,
      fuelKgPerM3,
      preheatRatio: ratio.mean,
      preheatRatioU: ratio.relativeU,
      flameOxygenPerFuel: (ratio.mean * oxygenKgPerM3) / fuelKgPerM3,
    },
  }
}

/** Oxygen that the torch supplies per volume of fuel: middle of the range, and how uncertain it is. */
export function preheatRatio(fuel: FuelCode): {
  mean: number
  relativeU: number
  provenance: Provenance
} {
  const [low, high] = GASES[fuel].preheatOxygenRatio ?? [0, 0]
  const mean = (low + high) / 2
  return {
    mean,
    relativeU: (high - low) / Math.sqrt(12) / mean,
    provenance: GASES[fuel].preheatRatioProvenance ?? 'common practice',
  }
}

import 'server-only'
import { estimateCutList } from '@/lib/calc/estimate'
import type { CutEstimate } from '@/lib/calc/estimate-types'
import type { Source } from '@/lib/calc/source'
import { lognormalInterval } from '@/lib/calc/stats'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { toCutInput } from '@/lib/schemas/cut-input'
import type { CutRow } from './cut-rows'
import type { CutListEstimate } from './estimates'
import type { Tip } from './jobs'

type TermCode = 'cutting' | 'preheat' | 'start' | 'idle'

/** One gas of one cut, term by term; they add up to the mean. */
export type CutGas = Readonly<{
  meanKg: number
  low90Kg: number
  high90Kg: number
  terms: readonly { code: TermCode; kg: number }[]
  /** What position and surface add, out of the terms above it; null when they add nothing. */
  position: { multiplier: number; kg: number } | null
  source: Source
}>

export type CutOpened = Readonly<{
  oxygen: CutGas
  fuel: CutGas
  /** Of the run that is longest: what the torch is set to. */
  settings: {
    lengthM: number
    runs: number
    pathM: number
    speedMPerS: number
    cuttingOxygenM3PerS: number
    preheatOxygenM3PerS: number
    fuelM3PerS: number
    orificeM: number | null
    tip: Tip | null
    oxygenPressureGaugeKpa: number | null
  } | null
  time: CutEstimate['time']
  floorKg: number
  table: { title: string; source: string; provenance: string }
}>

const TERM_CODES = ['cutting', 'preheat', 'start', 'idle'] as const
/** Position and surface lengthen the cutting, and with it the preheat and the idle flame; not the starts. */
const LENGTHENED: readonly TermCode[] = ['cutting', 'preheat', 'idle']

function termsOf(source: Source, multiplier: number): Pick<CutGas, 'terms' | 'position'> {
  const kgOf = (code: TermCode) =>
    Number(source.inputs.find((input) => input.name === code)?.value ?? 0)
  const base = (code: TermCode) =>
    LENGTHENED.includes(code) ? kgOf(code) / multiplier : kgOf(code)
  const added = LENGTHENED.reduce((sum, code) => sum + kgOf(code) - kgOf(code) / multiplier, 0)
  return {
    terms: TERM_CODES.map((code) => ({ code, kg: base(code) })).filter((term) => term.kg > 0),
    position: multiplier > 1 ? { multiplier, kg: added } : null,
  }
}

/** The doubt about a cut by itself: that of a list that holds nothing else. */
function doubtOf(cut: CutRow, estimate: CutListEstimate): { oxygenUKg: number; fuelUKg: number } {
  const process = estimate.inputs.cuts[0]?.process ?? 'hand'
  const { fuel, tipChart } = estimate.inputs
  const alone = estimateCutList({
    fuel,
    ...(tipChart ? { tipChart } : {}),
    cuts: [toCutInput(cut, process)],
  })
  return alone.ok
    ? { oxygenUKg: alone.oxygen.standardUncertainty, fuelUKg: alone.fuelGas.standardUncertainty }
    : { oxygenUKg: 0, fuelUKg: 0 }
}

/** The shop's nearest tip, if its hole is within a quarter of what the table asks. House judgement, no source. */
const NEAR_ENOUGH = 0.25

function nearestTip(orificeM: number | null, tips: readonly Tip[]): Tip | null {
  if (orificeM === null) return null
  const off = (tip: Tip) => Math.abs(tip.orificeM - orificeM)
  const near = tips.filter((tip) => off(tip) <= NEAR_ENOUGH * orificeM)
  return near.reduce<Tip | null>((best, tip) => (best && off(best) <= off(tip) ? best : tip), null)
}

function settingsOf(cut: CutEstimate, tips: readonly Tip[]): CutOpened['settings'] {
  const longest = cut.segments.reduce<CutEstimate['segments'][number] | null>(
    (best, segment) =>
      best && best.lengthM.value * best.count >= segment.lengthM.value * segment.count
        ? best
        : segment,
    null,
  )
  if (!longest) return null
  const orificeM = longest.orificeM?.value ?? null
  return {
    lengthM:
      cut.segments.reduce((sum, segment) => sum + segment.lengthM.value * segment.count, 0) *
      cut.remainingCount,
    runs: cut.segments.reduce((sum, segment) => sum + segment.count, 0) * cut.remainingCount,
    pathM: longest.pathM.value,
    speedMPerS: longest.speedMPerS.value,
    cuttingOxygenM3PerS: longest.cuttingOxygenM3PerS.value,
    preheatOxygenM3PerS: longest.preheatOxygenM3PerS.value,
    fuelM3PerS: longest.fuelM3PerS.value,
    orificeM,
    tip: nearestTip(orificeM, tips),
    oxygenPressureGaugeKpa: cut.oxygenPressureGaugeKpa?.value ?? null,
  }
}

/** Where the numbers of one cut come from; null for a cut that has none. */
export function openCut(
  cut: CutRow,
  estimate: CutListEstimate,
  tips: readonly Tip[],
): CutOpened | null {
  const found = estimate.result?.cuts.find((row) => row.cutId === cut.id)
  if (!found || found.remainingCount === 0) return null
  const doubt = doubtOf(cut, estimate)
  const multiplier = found.positionMultiplier.value
  const gas = (amount: CutEstimate['oxygenKg'], standardUncertainty: number): CutGas => {
    const { mean, low90, high90 } = lognormalInterval({ mean: amount.value, standardUncertainty })
    return {
      meanKg: mean,
      low90Kg: low90,
      high90Kg: high90,
      source: amount.source,
      ...termsOf(amount.source, multiplier),
    }
  }
  const { title, source, provenance } = estimate.inputs.tipChart ?? OFC_CARBON_STEEL
  return {
    oxygen: gas(found.oxygenKg, doubt.oxygenUKg),
    fuel: gas(found.fuelKg, doubt.fuelUKg),
    settings: settingsOf(found, tips),
    time: found.time,
    floorKg: found.oxygenFloorKg.value,
    table: { title, source, provenance },
  }
}

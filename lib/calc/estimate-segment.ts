import type { Segment } from './cut-geometry'
import { addTimes, purityFactors, startTimes, timeMultiplier } from './cut-times'
import { bevelPathM } from './estimate-check'
import type { CutInput, CutTime, SegmentEstimate } from './estimate-types'
import { type FuelCode, GASES } from './gas-data'
import { oxygenFloorKg } from './oxygen-floor'
import type { Provenance } from './source'
import { quadrature } from './stats'
import type { TipChart } from './tables/tip-chart'
import { type TipSettings, tipSettings } from './tip-settings'
import { source, traced } from './trace'
import { gasKgFromM3 } from './units'

export type GasTerms = { cutting: number; preheat: number; start: number; idle: number }

/** What a segment takes for all the cuts still to do. Masses in kg, `common` as standard uncertainty in kg. */
export type SegmentWork = {
  segment: SegmentEstimate
  time: CutTime
  oxygen: GasTerms & { common: number }
  fuel: GasTerms & { common: number }
  floorKg: number
  richFuelM3PerS: number
}

type Context = {
  cut: CutInput
  remaining: number
  chart: TipChart
  fuel: FuelCode
  purityPct: number
  idleFraction: number
}

/**
 * One run of metal of one thickness: settings, time and gas.
 *
 * @param segment length, thickness and number of the run within one cut
 * @param context the cut, how many are left, chart, fuel, oxygen purity, idle share
 * @returns settings with their sources, time (s), oxygen and fuel (kg) by term, the floor
 * @source flow x time; preheat oxygen = ratio x fuel (`GASES`)
 */
export function segmentWork(segment: Segment, context: Context): SegmentWork {
  const { cut, remaining, chart, fuel } = context
  const pathM = bevelPathM({ thicknessM: segment.thicknessM, bevelDeg: cut.bevelDeg ?? 0 })
  const settings = tipSettings({ chart, fuel, pathM, process: cut.process ?? 'hand' })
  const runs = remaining * segment.count
  const times = runTimes({ settings, lengthM: segment.lengthM * runs, pathM, runs, context })
  const time = {
    cuttingS: times.cuttingS,
    startS: times.preheatS + times.pierceS,
    idleS: times.idleS,
  }
  const ratio = preheatRatio(fuel)
  const fuelKg = (seconds: number) => gasKgFromM3(fuel, settings.fuelM3PerS * seconds)
  const preheatOxygenKg = (seconds: number) =>
    gasKgFromM3('oxygen', settings.fuelM3PerS * ratio.mean * seconds)
  const jetKg = (seconds: number) => gasKgFromM3('oxygen', settings.cuttingOxygenM3PerS * seconds)
  const oxygen: GasTerms = {
    cutting: jetKg(times.jetS),
    preheat: preheatOxygenKg(time.cuttingS),
    start: preheatOxygenKg(time.startS) + jetKg(times.pierceS),
    idle: preheatOxygenKg(time.idleS),
  }
  const fuelTerms: GasTerms = {
    cutting: 0,
    preheat: fuelKg(time.cuttingS),
    start: fuelKg(time.startS),
    idle: fuelKg(time.idleS),
  }
  const fuelU = relativeU(settings.logUncertainty.fuel)
  const preheatU = quadrature([fuelU, ratio.relativeU])
  return {
    segment: describeSegment({ segment, pathM, settings, ratio: ratio.mean, context }),
    time,
    // Errors of one crew and one table run together, so they add straight, not in quadrature.
    oxygen: {
      ...oxygen,
      common:
        relativeU(settings.logUncertainty.oxygen) * oxygen.cutting + preheatU * flameOf(oxygen),
    },
    fuel: { ...fuelTerms, common: fuelU * flameOf(fuelTerms) },
    floorKg: oxygenFloorKg({ lengthM: segment.lengthM * runs, pathM }),
    richFuelM3PerS: settings.ranges.fuelM3PerS[1],
  }
}

type RunInput = {
  settings: TipSettings
  lengthM: number
  pathM: number
  runs: number
  context: Context
}

function runTimes({ settings, lengthM, pathM, runs, context }: RunInput) {
  const { cut, fuel, purityPct, idleFraction } = context
  const purity = purityFactors(purityPct)
  const baseS = (lengthM / settings.speedMPerS) * timeMultiplier(cut)
  const start = startTimes({ pathM, fuel, pierced: cut.pierced ?? false })
  const cuttingS = baseS * purity.time
  return {
    cuttingS,
    /** Time of the jet at the table's flow: impure oxygen is counted by length, not by time. */
    jetS: baseS * purity.oxygenPerLength,
    preheatS: start.preheatS * runs,
    pierceS: start.pierceS * runs,
    idleS: cuttingS * idleFraction,
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

/** Relative standard deviation of a lognormal whose logarithm has this standard deviation. */
function relativeU(logUncertainty: number): number {
  return Math.sqrt(Math.expm1(logUncertainty ** 2))
}

const flameOf = (terms: GasTerms) => terms.preheat + terms.start + terms.idle

type Described = {
  segment: Segment
  pathM: number
  settings: TipSettings
  ratio: number
  context: Context
}

function describeSegment({ segment, pathM, settings, ratio, context }: Described): SegmentEstimate {
  const { cut, chart, fuel } = context
  const entered = { provenance: 'entered' as const }
  const looked = (formulaCode: string) =>
    source(
      formulaCode,
      { pathM: [pathM, 'm'], fuel: [fuel, ''], process: [cut.process ?? 'hand', ''] },
      { tableId: chart.id, provenance: chart.provenance },
    )
  const orifice = settings.orificeM
  return {
    part: segment.part,
    count: segment.count,
    lengthM: traced(
      segment.lengthM,
      'm',
      source('cutLength', { shape: [cut.shape.kind, ''] }, entered),
    ),
    pathM: traced(
      pathM,
      'm',
      source(
        'bevelPath',
        { thicknessM: [segment.thicknessM, 'm'], bevelDeg: [cut.bevelDeg ?? 0, 'deg'] },
        entered,
      ),
    ),
    speedMPerS: traced(settings.speedMPerS, 'm/s', looked('speedFromTable')),
    orificeM: orifice === null ? null : traced(orifice, 'm', looked('orificeFromTable')),
    cuttingOxygenM3PerS: traced(
      settings.cuttingOxygenM3PerS,
      'm3/s',
      looked('oxygenFlowFromTable'),
    ),
    fuelM3PerS: traced(settings.fuelM3PerS, 'm3/s', looked('fuelFlowFromTable')),
    preheatOxygenM3PerS: traced(
      settings.fuelM3PerS * ratio,
      'm3/s',
      source(
        'preheatOxygenByRatio',
        { fuelM3PerS: [settings.fuelM3PerS, 'm3/s'], ratio: [ratio, '1'] },
        { tableId: chart.id, provenance: preheatRatio(fuel).provenance },
      ),
    ),
    ranges: settings.ranges,
  }
}

/** Adds the times of segments. */
export const timeOf = (works: readonly SegmentWork[]): CutTime =>
  addTimes(works.map((work) => work.time))

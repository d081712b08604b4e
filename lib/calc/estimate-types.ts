import type { CylinderSize } from './contents-types'
import type { FuelCode, GasCode } from './gas-data'
import type { Refused } from './refusal'
import type { Interval90, Source, Traced } from './source'
import type { TipChart } from './tables/tip-chart'
import type { AcetyleneDrawOptionCode, DrawBasis, WithdrawalOutcome } from './withdrawal-types'

/** What is cut, by its cross-section. Lengths in metres. */
export type CutShape =
  | { kind: 'plate'; thicknessM: number; lengthM: number }
  | { kind: 'flatBar'; thicknessM: number; widthM: number }
  | { kind: 'squareBar'; sideM: number }
  | { kind: 'roundBar'; diameterM: number }
  | { kind: 'pipe'; outsideDiameterM: number; wallM: number }
  | { kind: 'wShape'; designation: string }

export type Position = 'flat' | 'horizontal' | 'vertical' | 'overhead'
export type CutCondition = 'dirty' | 'awkward'

export type CutInput = {
  id: string
  material: string
  shape: CutShape
  /** How many in all, and how many of them are already cut. Only the rest is estimated. */
  count: number
  doneCount?: number
  /** From square, 0 to 60 degrees. The metal path is t / cos. */
  bevelDeg?: number
  position?: Position
  conditions?: CutCondition[]
  process?: 'hand' | 'machine'
  /** Begins inside the plate, not at an edge. */
  pierced?: boolean
  /** The piece that comes down with each cut: length of the section, or area of the plate. */
  piece?: { lengthM: number } | { areaM2: number }
}

/** A size that can be ordered, with what is left in it when it is changed. */
export type SupplySize = CylinderSize & {
  sizeCode?: string
  /** Change at this gauge pressure (oxygen). Default 150 psig. */
  changeAtGaugePressureKpa?: number
  /** Left in when changed (fuels). Default a tenth of nominal. */
  heelKg?: number
}

export type EstimateInput = {
  fuel: string
  cuts: CutInput[]
  /** The shop's own chart, for its own metals and fuels; the built-in table (from memory) when absent. */
  tipChart?: TipChart
  /** 98.5 to 100. Default 99.5. */
  oxygenPurityPct?: number
  /** Torches at work at the same time. */
  torches?: number
  /** Times that a torch is lit; found from the torch time when absent. */
  lightUps?: number
  /** Share of cutting time that the preheat flame burns between cuts. Default 0.15. */
  idleFlameFraction?: number
  /** Torch time as a share of the time spent. Default 0.3. */
  operatingFactor?: number
  /** The crew's real use against the table, from the gas audit. */
  crewFactor?: { mean: number; standardUncertainty: number }
  airTemperatureK?: number
  acetyleneDraw?: { option?: AcetyleneDrawOptionCode; basis?: DrawBasis }
  oxygenSize?: SupplySize
  fuelSize?: SupplySize
  /** Gas that can be used on site now, above what is left in at change. */
  onHand?: { oxygenKg?: number; fuelKg?: number }
  prices?: {
    currency: string
    oxygenCylinderMinor?: number
    fuelCylinderMinor?: number
    crewHourMinor?: number
  }
}

/** A run of metal of one thickness within a cut. */
export type SegmentEstimate = {
  part: 'plate' | 'bar' | 'wall' | 'flange' | 'web'
  count: number
  lengthM: Traced
  pathM: Traced
  speedMPerS: Traced
  orificeM: Traced | null
  cuttingOxygenM3PerS: Traced
  fuelM3PerS: Traced
  preheatOxygenM3PerS: Traced
  /** The table's ranges at this thickness, slow to fast and lean to rich. */
  ranges: {
    speedMPerS: [number, number]
    cuttingOxygenM3PerS: [number, number]
    fuelM3PerS: [number, number]
    orificeM: [number, number] | null
  }
}

/** Mass of a gas, in kg. `terms` add up to `mean` except where the floor was higher. */
export type GasAmount = Interval90 & {
  gas: GasCode
  terms: { cutting: number; preheat: number; start: number; lightUp: number; idle: number }
  source: Source
}

export type CutTime = { cuttingS: number; startS: number; idleS: number }

export type CutEstimate = {
  cutId: string
  remainingCount: number
  segments: SegmentEstimate[]
  /** Of one piece; null when no piece was described. */
  pieceKg: Traced | null
  positionMultiplier: Traced
  /** For the cuts still to do. */
  time: CutTime
  /** Mean without the share of light-ups, which belongs to the job. */
  oxygenKg: Traced
  fuelKg: Traced
  /** Oxygen that burning the kerf takes at least. */
  oxygenFloorKg: Traced
  /** Pressures from a printed historic table; null outside it and for other fuels. */
  oxygenPressureGaugeKpa: Traced | null
}

export type SupplyNeed = {
  gas: GasCode
  sizeCode: string | null
  usableKgPerCylinder: Traced
  /** For the whole list from nothing, by the high end. */
  cylindersInAll: number
  /** What is short after what is on hand, by the high end. */
  shortKg: number
  cylindersToOrder: number
  /** Change when the gauge shows this (oxygen), or null. */
  changeAtGaugeKpa: number | null
  changeAtRemainingKg: number
  /** Torch time that one full cylinder lasts at the mean draw. */
  torchSecondsPerCylinder: number
}

export type EstimateCost = {
  currency: string
  /** Gas used and crew time, as doubles in minor units. */
  usedMinor: {
    oxygen: Interval90 | null
    fuel: Interval90 | null
    crew: number | null
    totalMean: number
  }
  /** The cylinders to order, whole. */
  orderMinor: number | null
}

export type EstimateResult = {
  ok: true
  calcVersion: string
  fuel: FuelCode
  tableId: string
  cuts: CutEstimate[]
  oxygen: GasAmount
  fuelGas: GasAmount
  oxygenFloorKg: number
  /** Time with a flame lit, one torch after another, and the time that takes of a working day. */
  time: CutTime & {
    lightUpS: number
    lightUps: number
    torchS: number
    elapsedS: number
    source: Source
  }
  supply: { oxygen: SupplyNeed | null; fuel: SupplyNeed | null }
  /** Null for piped gas or when no fuel size is given. */
  withdrawal: WithdrawalOutcome | null
  cost: EstimateCost | null
  /** Codes of what the reader must know: unread table, judged multipliers, a floor that bound. */
  notes: string[]
}

export type EstimateOutcome = EstimateResult | Refused

import type { CylinderSize } from './contents-types'
import type { FuelCode, GasCode } from './gas-data'
import type { JudgementKey } from './judgements'
import type { CoatingAdvice } from './materials'
import type { Refused } from './refusal'
import type { SectionFamily, SectionPart } from './sections/named-section'
import type { Interval90, Source, Traced } from './source'
import type { TipChart } from './tables/tip-chart'
import type { AcetyleneDrawOptionCode, DrawBasis, WithdrawalOutcome } from './withdrawal-types'

/** What is cut, by its cross-section, or by what is taken off. Lengths in metres. */
export type CutShape =
  | { kind: 'plate'; thicknessM: number; lengthM: number }
  | { kind: 'flatBar'; thicknessM: number; widthM: number }
  | { kind: 'squareBar'; sideM: number }
  | { kind: 'roundBar'; diameterM: number }
  | { kind: 'pipe'; outsideDiameterM: number; wallM: number }
  | { kind: SectionFamily; designation: string }
  /** Heads of rivets and bolts, washed off flush; `count` is how many. */
  | { kind: 'rivetHead' | 'boltHead'; shankDiameterM: number }
  /** Metal gouged or washed off a surface. Takes the cut's own gas and rate. */
  | { kind: 'gouge' | 'washOff'; areaM2: number; depthM: number }

/** What is done to the shape when it is not severed. */
export type CutTask =
  /** Round hole through one thickness. */
  | { kind: 'hole'; diameterM: number; part?: 'flange' | 'web' }
  /** Rectangle out of an edge: along it, and into it. */
  | { kind: 'notch'; lengthM: number; depthM: number; part?: 'flange' | 'web' }
  /** One flange and the web below it taken off at the end of a beam or channel. */
  | { kind: 'cope'; lengthM: number; depthM: number }
  /** Single bevel on an edge that is already cut, down to a land. */
  | { kind: 'bevel'; angleDeg: number; landM?: number }

export type Position = 'flat' | 'horizontal' | 'vertical' | 'overhead'
export type CutCondition = 'dirty' | 'painted' | 'awkward' | 'cold' | 'wind'

/** The user's own gas and speed for one cut, at 70 °F and 1 atm: where no table tells. */
export type OwnSettings = {
  cuttingOxygenM3PerS: number
  /** None for a lance that burns by itself. */
  fuelM3PerS: number
  /** Along the cut. */
  speedMPerS?: number
  /** Of a gouge or wash-off. */
  areaM2PerS?: number
}

export type CutInput = {
  id: string
  material: string
  /** One of `COATING_CODES`; changes no number, brings its precautions. */
  coating?: string
  shape: CutShape
  /** Severed when absent. */
  task?: CutTask
  /** How many in all, and how many of them are already cut. Only the rest is estimated. */
  count: number
  doneCount?: number
  /** Torch from square, 0 to 60 degrees. The metal path is t / cos. */
  bevelDeg?: number
  /** Plane of the cut from square across the section, 0 to 60 degrees. */
  miterDeg?: number
  /** Where the mitre's line is drawn at its angle: on the flange (or first leg or side) or on the web. */
  miterOn?: 'flange' | 'web'
  /** Plates or flats cut together, tightly clamped: one cut through them all. */
  stackPlates?: number
  position?: Position
  conditions?: CutCondition[]
  process?: 'hand' | 'machine'
  /** Begins inside the metal, not at an edge. Holes, pipe and hollow sections do unless this says no. */
  pierced?: boolean
  /** Times that one cut is broken off and started again; by its length when absent. */
  restarts?: number
  own?: OwnSettings
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
  /** 95 to 100. Default 99.5. */
  oxygenPurityPct?: number
  /** The shop's own preheat flow, low and high, for a fuel that the chart does not have. */
  ownFuelFlowM3PerS?: readonly [low: number, high: number]
  /** Judged figures changed for this estimate. */
  judgements?: Partial<Record<JudgementKey, number>>
  /** Seconds from one piece to the next with the torch out, where it is known apart. */
  travelSPerCut?: number
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

/** All that an estimate takes but its cuts. */
export type EstimateSettings = Omit<EstimateInput, 'cuts'>

/** A run of metal of one thickness within a cut. */
export type SegmentEstimate = {
  part: SectionPart
  count: number
  /** Of a gouge or wash-off this is an area, m²; its unit says so. */
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
  /** Of what one cut brings down; null when no piece was described. */
  pieceKg: Traced | null
  /** Whether it must be rigged, and above what weight that is; null when the weight is not known. */
  rig: { mustRig: boolean; aboveKg: number } | null
  coating: CoatingAdvice | null
  positionMultiplier: Traced
  /** Of the preheat at each start. */
  startMultiplier: Traced
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
  /** Rows of the chart whose leanest end would take less oxygen than the kerf burns. */
  chartRowsBelowFloor: readonly number[]
  /** Time with a flame lit, one torch after another, and the time that takes of a working day. */
  time: CutTime & {
    lightUpS: number
    lightUps: number
    travelS: number
    torchS: number
    elapsedS: number
    torch: Interval90
    elapsed: Interval90
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

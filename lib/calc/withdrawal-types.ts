import type { Measured } from './measured'
import type { Refused } from './refusal'
import type { Source } from './source'

export type AcetyleneDrawOptionCode =
  | 'tenthIntermittentFifteenthContinuous'
  | 'seventh1916'
  | 'fiftyCubicFeetPerHour'

/** Of what the fraction is taken: the full contents, or, stricter, what is left. */
export type DrawBasis = 'capacity' | 'remaining'

export type WithdrawalInput =
  | {
      gas: 'acetylene'
      capacityKg: number
      remainingKg?: number
      option?: AcetyleneDrawOptionCode
      basis?: DrawBasis
      pattern?: 'intermittent' | 'continuous'
      remainingStandardUncertaintyKg?: number
      /** What the torches draw together. */
      drawM3PerS?: number
      /** A tenth of the draw without it, as for `runTime`. */
      drawStandardUncertaintyM3PerS?: number
    }
  | {
      gas: 'propane'
      remainingKg: number
      airTemperatureK: number
      /** The trade table is for a 100-lb cylinder; others need their dimensions. */
      capacityKg: number
      outsideDiameterM?: number
      overallLengthM?: number
      remainingStandardUncertaintyKg?: number
      /** 2 K without it: air for the air around the cylinder. */
      airStandardUncertaintyK?: number
      drawM3PerS?: number
      drawStandardUncertaintyM3PerS?: number
    }

export type Withdrawal = {
  ok: true
  gas: 'acetylene' | 'propane'
  allowedM3PerSPerCylinder: number
  allowedKgPerSPerCylinder: number
  /** The same with its doubt: m³/s at 70 °F and 1 atm. */
  allowed: Measured
  /** Whole cylinders; null when no draw was given. */
  cylindersOnManifold: number | null
  /** The draw over what one cylinder allows, before it is rounded up, with its doubt. */
  needed: Measured | null
  option: AcetyleneDrawOptionCode | null
  source: Source
}

export type WithdrawalOutcome = Withdrawal | Refused

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
      /** What the torches draw together. */
      drawM3PerS?: number
    }
  | {
      gas: 'propane'
      remainingKg: number
      airTemperatureK: number
      /** The trade table is for a 100-lb cylinder; others need their dimensions. */
      capacityKg: number
      outsideDiameterM?: number
      overallLengthM?: number
      drawM3PerS?: number
    }

export type Withdrawal = {
  ok: true
  gas: 'acetylene' | 'propane'
  allowedM3PerSPerCylinder: number
  allowedKgPerSPerCylinder: number
  /** Null when no draw was given. */
  cylindersOnManifold: number | null
  option: AcetyleneDrawOptionCode | null
  source: Source
}

export type WithdrawalOutcome = Withdrawal | Refused

// Hoses of the trade: bore, working pressure, and which grade is for which fuel.
// Source: bores 3/16, 1/4 and 3/8 in usual, 1/8, 5/16 and 1/2 in also made; 200 psig working pressure; grade R for
// acetylene only, RM the same with a cover that resists oil and flame, T for all fuel gases: RMA/CGA IP-7, from memory.
// A vendor's guide confirms that R is not for propane, propylene or MPS-type gas (read).
import type { FuelCode } from '../gas-data'

export const HOSES_ID = 'hoses'

export const HOSE_BORES = {
  eighth: { boreIn: 1 / 8 },
  threeSixteenths: { boreIn: 3 / 16 },
  quarter: { boreIn: 1 / 4 },
  fiveSixteenths: { boreIn: 5 / 16 },
  threeEighths: { boreIn: 3 / 8 },
  half: { boreIn: 1 / 2 },
} as const satisfies Record<string, { boreIn: number }>

export type HoseBore = keyof typeof HOSE_BORES
export const HOSE_BORE_CODES = Object.keys(HOSE_BORES) as [HoseBore, ...HoseBore[]]

export const HOSE_WORKING_PSIG = 200

export const HOSE_GRADE_CODES = ['R', 'RM', 'T'] as const
export type HoseGrade = (typeof HOSE_GRADE_CODES)[number]

export const HOSE_GRADES: Readonly<Record<HoseGrade, readonly FuelCode[]>> = {
  R: ['acetylene'],
  RM: ['acetylene'],
  T: ['acetylene', 'propane', 'natural_gas', 'propylene', 'mps'],
}

/**
 * Viscosity near 294 K, Pa·s, growing with the absolute temperature to the power 0.75 or so.
 * Oxygen: Lemmon & Jacobsen, Int. J. Thermophys. 25 (2004) 21, dilute gas, coefficients read; fuels from memory of
 * the usual tables, within a twentieth.
 */
export const VISCOSITY_PA_S = {
  oxygen: 20.31e-6,
  acetylene: 10.2e-6,
  propane: 8.1e-6,
  natural_gas: 11.0e-6,
  propylene: 8.5e-6,
  mps: 8.7e-6,
} as const

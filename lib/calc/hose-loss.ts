import { requireNumber } from './errors'
import { type GasCode, standardDensityKgPerM3 } from './gas-data'
import { VISCOSITY_PA_S } from './tables/hoses'
import { STANDARD_PRESSURE_KPA, STANDARD_TEMPERATURE_K } from './units'

export type HoseFlow = {
  gas: GasCode
  flowM3PerS: number
  boreM: number
  lengthM: number
  temperatureK: number
  /** Factor on the friction of a smooth hose, for fittings, bends and age. */
  frictionFactor: number
}

const VISCOSITY_EXPONENT = 0.75
/** Rubber tube is smooth; common practice, no source. */
const ROUGHNESS_M = 5e-6
/** A cubic metre in thirty thousand years. */
const NO_FLOW_M3_PER_S = 1e-12
/** Faster than this the gas chokes before the torch: no pressure pushes more through. */
const CHOKED_MACH2 = 1 / 1.4

/**
 * Friction factor of a round tube, Darcy's, for any flow.
 *
 * @param input Reynolds number > 0, roughness over bore
 * @returns scalar; 64/Re where the flow is laminar
 * @throws {CalcError} OUT_OF_RANGE
 * @source Churchill, Chem. Eng. 84 (1977) 91, from memory; laminar: Hagen and Poiseuille, exact
 */
export function darcyFriction(input: { reynolds: number; relativeRoughness: number }): number {
  const re = requireNumber('reynolds', input.reynolds, { above: 0 })
  const rough = requireNumber('relativeRoughness', input.relativeRoughness, { min: 0, max: 0.1 })
  // Creeping flow: the formula's powers would overflow.
  if (re < 1) return 64 / re
  const a = (2.457 * Math.log(1 / ((7 / re) ** 0.9 + 0.27 * rough))) ** 16
  const b = (37_530 / re) ** 16
  return 8 * ((8 / re) ** 12 + 1 / (a + b) ** 1.5) ** (1 / 12)
}

/**
 * Pressure at the start of a hose so that a flow arrives with a given pressure: isothermal, compressible.
 *
 * @param flow gas, flow (m³/s at 70 °F and 1 atm), bore, length (m), temperature (K)
 * @param endAbsKpa pressure at the far end, kPa absolute
 * @returns kPa absolute; null where the gas would choke
 * @throws {CalcError} OUT_OF_RANGE
 * @remarks p1² − p2² = G² (R T / M) (f L / D + 2 ln(p1 / p2)); the logarithm by iteration, which settles in a few steps.
 * @source isothermal flow with friction, e.g. Perry's Chemical Engineers' Handbook, from memory
 */
export function hoseStartAbsKpa(flow: HoseFlow, endAbsKpa: number): number | null {
  requireNumber('flowM3PerS', flow.flowM3PerS, { min: 0 })
  requireNumber('boreM', flow.boreM, { above: 0 })
  requireNumber('lengthM', flow.lengthM, { min: 0 })
  requireNumber('temperatureK', flow.temperatureK, { min: 230, max: 340 })
  requireNumber('endAbsKpa', endAbsKpa, { above: 0 })
  if (flow.flowM3PerS < NO_FLOW_M3_PER_S || flow.lengthM === 0) return endAbsKpa
  const density = standardDensityKgPerM3(flow.gas)
  const kgPerS = flow.flowM3PerS * density
  const massFlux = kgPerS / ((Math.PI / 4) * flow.boreM ** 2)
  const viscosity =
    VISCOSITY_PA_S[flow.gas] * (flow.temperatureK / STANDARD_TEMPERATURE_K) ** VISCOSITY_EXPONENT
  const friction = darcyFriction({
    reynolds: (massFlux * flow.boreM) / viscosity,
    relativeRoughness: ROUGHNESS_M / flow.boreM,
  })
  // Pressure over density at the hose's temperature: R T / M of the gas, Pa m³/kg.
  const pressureOverDensity =
    ((STANDARD_PRESSURE_KPA * 1000) / density) * (flow.temperatureK / STANDARD_TEMPERATURE_K)
  const end = endAbsKpa * 1000
  // The isothermal speed of sound squared is R T / M: this is the Mach number at the end times gamma.
  const mach2 = (massFlux ** 2 * pressureOverDensity) / end ** 2
  if (mach2 >= CHOKED_MACH2) return null
  const head = massFlux ** 2 * pressureOverDensity
  const fixed = (friction * flow.frictionFactor * flow.lengthM) / flow.boreM
  const start = { pa: Math.sqrt(end ** 2 + head * fixed) }
  for (let i = 0; i < 30; i += 1)
    start.pa = Math.sqrt(end ** 2 + head * (fixed + 2 * Math.log(start.pa / end)))
  return start.pa / 1000
}

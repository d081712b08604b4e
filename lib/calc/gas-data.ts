import type { Provenance } from './source'

export const GAS_CODES = [
  'oxygen',
  'acetylene',
  'propane',
  'natural_gas',
  'propylene',
  'mps',
] as const
export type GasCode = (typeof GAS_CODES)[number]

export const FUEL_CODES = ['acetylene', 'propane', 'natural_gas', 'propylene', 'mps'] as const
export type FuelCode = (typeof FUEL_CODES)[number]

/** Gases that neither burn nor feed a flame, for shielding and purging. */
export const INERT_GAS_CODES = ['argon', 'nitrogen', 'carbon_dioxide'] as const
export type InertGasCode = (typeof INERT_GAS_CODES)[number]

/** Any gas whose cylinders can be counted. */
export const CYLINDER_GAS_CODES = [...GAS_CODES, ...INERT_GAS_CODES] as const
export type CylinderGasCode = GasCode | InertGasCode

export type GasProperties = {
  code: GasCode
  /** At 70 °F (294.2611 K) and 101.325 kPa, real gas. The one bridge between kg and ft³ or m³. */
  densityKgPerM3: number
  densityProvenance: Provenance
  densitySource: string
  /** Volumes of oxygen for complete combustion of one volume; null for oxygen itself. */
  oxygenForCompleteCombustion: number | null
  /** Oxygen that the torch supplies to the preheat flame, volumes per volume of fuel, low and high. */
  preheatOxygenRatio: readonly [number, number] | null
  preheatRatioProvenance: Provenance | null
  /** Never above this gauge pressure in use; null when the gas itself sets none. */
  maxUseGaugeKpa: number | null
}

/** lb/ft³ turned into kg/m³ with the exact pound and foot. */
function fromSpecificVolumeFt3PerLb(ft3PerLb: number): number {
  return 0.453_592_37 / (0.3048 ** 3 * ft3PerLb)
}

/**
 * Properties of the gases. Sources stand beside each number.
 *
 * @source oxygen: Schmidt & Wagner 1985 equation, computed, 1.32614 kg/m³ (12.079 ft³/lb).
 *   propane: Lemmon, McLinden & Wagner 2009, computed, 8.623 ft³/lb. Natural gas as pure methane:
 *   Setzmann & Wagner 1991, computed, 24.065 ft³/lb. Propylene: Lemmon et al., computed, 9.054 ft³/lb.
 *   acetylene: ideal gas with second virial coefficient (Z = 0.9933), 14.76 ft³/lb.
 *   MPS: 8.9 ft³/lb at 60 °F from memory of a welding handbook, carried to 70 °F by absolute temperature.
 *   Preheat ratios: footnote of the cutting table in the welding handbook, from memory; propylene 2.6 and
 *   MPS 2.5 are common practice, given here ±10 %.
 */
export const GASES: Readonly<Record<GasCode, GasProperties>> = {
  oxygen: {
    code: 'oxygen',
    densityKgPerM3: 1.326_14,
    densityProvenance: 'read',
    densitySource:
      'Schmidt and Wagner, Fluid Phase Equilib. 19 (1985) 175, evaluated at 70 °F and 1 atm',
    oxygenForCompleteCombustion: null,
    preheatOxygenRatio: null,
    preheatRatioProvenance: null,
    maxUseGaugeKpa: null,
  },
  acetylene: {
    code: 'acetylene',
    densityKgPerM3: fromSpecificVolumeFt3PerLb(14.76),
    densityProvenance: 'derived',
    densitySource: 'ideal gas with second virial coefficient (Pitzer form), Z = 0.9933',
    oxygenForCompleteCombustion: 2.5,
    preheatOxygenRatio: [1.1, 1.25],
    preheatRatioProvenance: 'from memory',
    maxUseGaugeKpa: 15 * 6.894_757_293_168, // 15 psig, NAVEDTRA 14250 (read)
  },
  propane: {
    code: 'propane',
    densityKgPerM3: fromSpecificVolumeFt3PerLb(8.623),
    densityProvenance: 'read',
    densitySource:
      'Lemmon, McLinden and Wagner, J. Chem. Eng. Data 54 (2009) 3141, evaluated at 70 °F and 1 atm',
    oxygenForCompleteCombustion: 5,
    preheatOxygenRatio: [3.5, 5],
    preheatRatioProvenance: 'from memory',
    maxUseGaugeKpa: null,
  },
  natural_gas: {
    code: 'natural_gas',
    densityKgPerM3: fromSpecificVolumeFt3PerLb(24.065),
    densityProvenance: 'read',
    densitySource:
      'Setzmann and Wagner, J. Phys. Chem. Ref. Data 20 (1991) 1061, pure methane at 70 °F and 1 atm',
    oxygenForCompleteCombustion: 2,
    preheatOxygenRatio: [1.5, 2.5],
    preheatRatioProvenance: 'from memory',
    maxUseGaugeKpa: null,
  },
  propylene: {
    code: 'propylene',
    densityKgPerM3: fromSpecificVolumeFt3PerLb(9.054),
    densityProvenance: 'read',
    densitySource: 'Lemmon et al. propylene equation, evaluated at 70 °F and 1 atm',
    oxygenForCompleteCombustion: 4.5,
    preheatOxygenRatio: [2.34, 2.86],
    preheatRatioProvenance: 'common practice',
    maxUseGaugeKpa: null,
  },
  mps: {
    code: 'mps',
    densityKgPerM3: fromSpecificVolumeFt3PerLb((8.9 * 529.67) / 519.67),
    densityProvenance: 'from memory',
    densitySource: 'welding handbook, 8.9 ft³/lb at 60 °F, from memory',
    oxygenForCompleteCombustion: 4,
    preheatOxygenRatio: [2.25, 2.75],
    preheatRatioProvenance: 'common practice',
    maxUseGaugeKpa: null,
  },
}

type InertGas = Pick<GasProperties, 'densityKgPerM3' | 'densityProvenance' | 'densitySource'>

/**
 * Densities of the inert gases at 70 °F and 1 atm.
 *
 * @source argon, 9.676 ft³/lb, and nitrogen, 13.804 ft³/lb: the reference equations of `real-gas`, computed.
 *   Carbon dioxide: molar mass 44.0095 g/mol and second virial coefficient −126 cm³/mol at 294 K, Z = 0.9948,
 *   from memory; 8.74 ft³/lb as the trade has it.
 */
export const INERT_GASES: Readonly<Record<InertGasCode, InertGas>> = {
  argon: {
    densityKgPerM3: 1.655_525,
    densityProvenance: 'read',
    densitySource:
      'Tegeler, Span and Wagner, J. Phys. Chem. Ref. Data 28 (1999) 779, evaluated at 70 °F and 1 atm',
  },
  nitrogen: {
    densityKgPerM3: 1.160_42,
    densityProvenance: 'read',
    densitySource:
      'Span et al., J. Phys. Chem. Ref. Data 29 (2000) 1361, evaluated at 70 °F and 1 atm',
  },
  carbon_dioxide: {
    densityKgPerM3: 1.832_2,
    densityProvenance: 'from memory',
    densitySource: 'ideal gas with second virial coefficient, Z = 0.9948, from memory',
  },
}

/** Density at 70 °F and 1 atm, kg/m³: the bridge between mass and cubic feet. */
export function standardDensityKgPerM3(gas: CylinderGasCode): number {
  return isInertGasCode(gas) ? INERT_GASES[gas].densityKgPerM3 : GASES[gas].densityKgPerM3
}

/** True for an inert gas that this library knows. */
export function isInertGasCode(code: string): code is InertGasCode {
  return (INERT_GAS_CODES as readonly string[]).includes(code)
}

/** True for a gas that this library knows. */
export function isGasCode(code: string): code is GasCode {
  return (GAS_CODES as readonly string[]).includes(code)
}

/** True for a fuel that this library knows. */
export function isFuelCode(code: string): code is FuelCode {
  return (FUEL_CODES as readonly string[]).includes(code)
}

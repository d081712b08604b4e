import { numberRefusals, type Outcome } from './check-numbers'
import { interpolateMonotone } from './interpolate'
import { input, type Measured, measure } from './measured'
import { refuse } from './refusal'
import { rectangular } from './stats'
import {
  LIQUID_AT_SATURATION,
  LIQUID_AT_SATURATION_ID,
  type LiquidGasCode,
} from './tables/liquid-at-saturation'
import { gaugeKpaFromPsig, psigFromGaugeKpa } from './units'

export type LiquidContentsInput = {
  gas: LiquidGasCode
  reading:
    | {
        kind: 'weight'
        grossKg: number
        tareKg: number
        grossStandardUncertaintyKg?: number
        tareStandardUncertaintyKg?: number
      }
    | {
        kind: 'level'
        /** Part of the container's volume that is liquid, 0 to 1. */
        levelShare: number
        /** Half width within which the level indicator is right. */
        levelTolerance?: number
        containerVolumeL: number
        /** Pressure of the container, which sets how dense its liquid is. */
        gaugePressureKpa: number
      }
}

export type LiquidContents = Outcome<{ gas: LiquidGasCode; gasKg: Measured }>

/** Common practice, no source: a floor scale under a liquid cylinder, and its stamped tare. */
const GROSS_U_KG = 0.5
const TARE_U_KG = 0.5
/** Common practice, no source: a float indicator is read to a twentieth of full. */
const LEVEL_TOLERANCE = 0.05
/** Common practice, no source: liquid lies between equilibrium at this pressure and colder, denser liquid. */
const DENSITY_TOLERANCE = 0.03
const MAX_PSIG = 350
const MAX_GAUGE_KPA = gaugeKpaFromPsig(MAX_PSIG)

/**
 * Gas in a liquid cylinder, by weight or by level.
 *
 * @param container the gas and what was read: gross and tare (kg), or level (share), volume (L), pressure (kPa)
 * @returns kg with uncertainty, vapour over the liquid included; or refusals
 * @remarks Weight is far better: a level indicator is coarse and the liquid's density depends on how it was filled.
 * @source weight: difference. Level: densities of `tables/liquid-at-saturation`
 */
export function liquidContents({ gas, reading }: LiquidContentsInput): LiquidContents {
  return reading.kind === 'weight' ? byWeight(gas, reading) : byLevel(gas, reading)
}

function byLevel(
  gas: LiquidGasCode,
  reading: Extract<LiquidContentsInput['reading'], { kind: 'level' }>,
): LiquidContents {
  const refusals = numberRefusals({
    'reading.levelShare': [reading.levelShare, { min: 0, max: 1 }],
    'reading.levelTolerance': [reading.levelTolerance, { above: 0, max: 0.5 }],
    'reading.containerVolumeL': [reading.containerVolumeL, { above: 0, unit: 'L' }],
    'reading.gaugePressureKpa': [
      reading.gaugePressureKpa,
      { min: 0, max: MAX_GAUGE_KPA, unit: 'kPa' },
    ],
  })
  if (refusals.length > 0) return refuse(refusals)
  const { liquid, vapour } = densitiesAt(gas, reading.gaugePressureKpa)
  const tolerance = reading.levelTolerance ?? LEVEL_TOLERANCE
  const gasKg = measure({
    formulaCode: 'liquidByLevel',
    unit: 'kg',
    min: 0,
    tableId: LIQUID_AT_SATURATION_ID,
    inputs: {
      levelShare: input(reading.levelShare, '1', {
        u: rectangular(tolerance),
        provenance: reading.levelTolerance === undefined ? 'common practice' : 'entered',
        min: 0,
        max: 1,
      }),
      liquidKgPerM3: input(liquid, 'kg/m³', {
        u: rectangular(DENSITY_TOLERANCE * liquid),
        provenance: 'common practice',
      }),
      vapourKgPerM3: input(vapour, 'kg/m³', { provenance: 'read' }),
      containerVolumeL: input(reading.containerVolumeL, 'L'),
    },
    of: (at) =>
      (at.containerVolumeL / 1000) *
      (at.levelShare * at.liquidKgPerM3 + (1 - at.levelShare) * at.vapourKgPerM3),
  })
  return { ok: true, gas, gasKg }
}

function densitiesAt(gas: LiquidGasCode, gaugePressureKpa: number) {
  const rows = LIQUID_AT_SATURATION[gas]
  // The conversion may miss the last row by its last digit.
  const psig = Math.min(MAX_PSIG, psigFromGaugeKpa(gaugePressureKpa))
  return {
    liquid: interpolateMonotone(
      rows.map(([x, rho]) => [x, rho]),
      psig,
    ),
    vapour: interpolateMonotone(
      rows.map(([x, , rho]) => [x, rho]),
      psig,
    ),
  }
}

function byWeight(
  gas: LiquidGasCode,
  reading: Extract<LiquidContentsInput['reading'], { kind: 'weight' }>,
): LiquidContents {
  const { grossKg, tareKg } = reading
  const grossU = reading.grossStandardUncertaintyKg ?? GROSS_U_KG
  const tareU = reading.tareStandardUncertaintyKg ?? TARE_U_KG
  const refusals = numberRefusals({
    'reading.tareKg': [tareKg, { above: 0, unit: 'kg' }],
    'reading.grossKg': [grossKg, { min: tareKg - 3 * Math.hypot(grossU, tareU), unit: 'kg' }],
    'reading.grossStandardUncertaintyKg': [grossU, { min: 0, unit: 'kg' }],
    'reading.tareStandardUncertaintyKg': [tareU, { min: 0, unit: 'kg' }],
  })
  if (refusals.length > 0) return refuse(refusals)
  const known = { provenance: 'common practice' } as const
  const gasKg = measure({
    formulaCode: 'contentsByWeight',
    unit: 'kg',
    min: 0,
    inputs: {
      grossKg: input(grossKg, 'kg', { ...known, u: grossU }),
      tareKg: input(tareKg, 'kg', { ...known, u: tareU }),
    },
    of: (at) => Math.max(0, at.grossKg - at.tareKg),
  })
  return { ok: true, gas, gasKg }
}

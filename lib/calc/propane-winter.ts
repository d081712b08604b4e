import { numberRefusals, type Outcome } from './check-numbers'
import { AIR_U_K } from './draw-doubt'
import { input, type Measured, measure } from './measured'
import {
  heldPropaneTemperatureK,
  PROPANE_PRESSURE_RANGE,
  propaneSaturationAbsKpa,
} from './propane-pressure'
import { type Refusal, refuse } from './refusal'
import { rectangular } from './stats'
import { PROPANE_SATURATION_ID } from './tables/propane-saturation'
import { kelvinFromFahrenheit, STANDARD_PRESSURE_KPA } from './units'
import { withdrawal } from './withdrawal'
import type { Withdrawal, WithdrawalInput } from './withdrawal-types'

export type PropaneWinterInput = Omit<Extract<WithdrawalInput, { gas: 'propane' }>, 'gas'> & {
  /** What the torch takes altogether, and on how many cylinders. */
  drawM3PerS: number
  cylinders?: number
  /** Pressure that the regulator needs before it to hold its setting. */
  neededGaugePressureKpa?: number
}

export type PropaneWinter = Outcome<{
  withdrawal: Withdrawal
  cylindersNeeded: number
  /** Temperature of the liquid while the draw lasts, and the pressure that it gives. */
  liquidTemperatureK: Measured
  supplyGaugePressureKpa: Measured
}>

/** The vessel formula lets the liquid cool to −20 °F. @source the same installation manual, read. */
const COOLED_LIQUID_K = kelvinFromFahrenheit(-20)
/** Commercial grades run up to this much above pure propane. */
const COMMERCIAL_EXCESS = 0.11

/**
 * Whether propane boils fast enough in the cold, and what pressure is left before the regulator.
 *
 * @param input contents (kg), air (K), the draw (m³/s at 70 °F and 1 atm), cylinders that share it
 * @returns allowed draw, cylinders needed, liquid temperature and supply pressure; refused when the draw is above
 *   what boils or the pressure falls below what the regulator needs
 * @source `propaneVapourM3PerS`; liquid cools in proportion to the draw, to −20 °F at the limit, as the vessel
 *   formula's air-to-liquid difference says; pressure of pure propane, `propaneSaturationAbsKpa`
 */
export function propaneWinter(known: PropaneWinterInput): PropaneWinter {
  const { cylinders = 1, neededGaugePressureKpa = 0, drawM3PerS } = known
  const refusals = check(known)
  if (refusals.length > 0) return refuse(refusals)
  const { cylinders: _, neededGaugePressureKpa: __, ...draw } = known
  const allowed = withdrawal({ gas: 'propane', ...draw })
  if (!allowed.ok) return allowed
  const cylindersNeeded = allowed.cylindersOnManifold ?? 1
  if (cylinders < cylindersNeeded) {
    const limit = { max: allowed.allowedM3PerSPerCylinder * cylinders, unit: 'm3/s' }
    return refuse([
      {
        code: 'DRAW_ABOVE_LIMIT',
        field: 'drawM3PerS',
        value: drawM3PerS,
        limit,
        because: 'propaneBoilsTooSlowly',
        instead: ['moreCylinders', 'warmerPlace', 'fullerCylinder'],
      },
    ])
  }
  const share = drawM3PerS / (allowed.allowedM3PerSPerCylinder * cylinders)
  const cold = coldLiquid(known.airTemperatureK, share)
  if (cold.supplyGaugePressureKpa.mean < neededGaugePressureKpa) {
    return refuse([
      {
        code: 'VAPOUR_PRESSURE_TOO_LOW',
        field: 'neededGaugePressureKpa',
        value: neededGaugePressureKpa,
        limit: { max: cold.supplyGaugePressureKpa.mean, unit: 'kPa' },
        because: 'liquidTooCold',
        instead: ['moreCylinders', 'warmerPlace'],
      },
    ])
  }
  return { ok: true, withdrawal: allowed, cylindersNeeded, ...cold }
}

function check(known: PropaneWinterInput): Refusal[] {
  return numberRefusals({
    cylinders: [known.cylinders, { min: 1, max: 64 }],
    neededGaugePressureKpa: [known.neededGaugePressureKpa, { min: 0, unit: 'kPa' }],
    drawM3PerS: [known.drawM3PerS, { min: 0, unit: 'm3/s' }],
    airTemperatureK: [
      known.airTemperatureK,
      { max: PROPANE_PRESSURE_RANGE.maxTemperatureK, unit: 'K' },
    ],
  })
}

function coldLiquid(airTemperatureK: number, share: number) {
  const inputs = {
    airTemperatureK: input(airTemperatureK, 'K', {
      u: AIR_U_K,
      provenance: 'common practice',
      max: PROPANE_PRESSURE_RANGE.maxTemperatureK,
    }),
    shareOfAllowedDraw: input(Math.min(1, share), '1', { provenance: 'derived' }),
  }
  const liquidK = (at: { airTemperatureK: number; shareOfAllowedDraw: number }) =>
    at.airTemperatureK - Math.max(0, at.airTemperatureK - COOLED_LIQUID_K) * at.shareOfAllowedDraw
  return {
    liquidTemperatureK: measure({
      formulaCode: 'propaneLiquidTemperature',
      unit: 'K',
      inputs,
      of: liquidK,
    }),
    supplyGaugePressureKpa: measure({
      formulaCode: 'propaneSupplyPressure',
      unit: 'kPa',
      tableId: PROPANE_SATURATION_ID,
      inputs: {
        ...inputs,
        composition: input(1, '1', { u: rectangular(COMMERCIAL_EXCESS), provenance: 'read' }),
      },
      of: (at) =>
        propaneSaturationAbsKpa(heldPropaneTemperatureK(liquidK(at))) * at.composition -
        STANDARD_PRESSURE_KPA,
    }),
  }
}

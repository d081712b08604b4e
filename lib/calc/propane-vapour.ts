import { interpolateHeld, interpolateMonotone } from './interpolate'
import { type Refused, refuse } from './refusal'
import type { Source } from './source'
import {
  PROPANE_BTU_PER_FT3,
  PROPANE_VAPOUR_AIR_F,
  PROPANE_VAPOUR_ID,
  PROPANE_VAPOUR_ROWS,
  PROPANE_VESSEL_K,
} from './tables/propane-vapour-100lb'
import { source } from './trace'
import { fahrenheitFromKelvin, kelvinFromFahrenheit, UNITS } from './units'

export type PropaneVapourInput = {
  capacityKg: number
  remainingKg: number
  airTemperatureK: number
  outsideDiameterM?: number
  overallLengthM?: number
}

type Vapour = { ok: true; m3PerS: number; source: Source } | Refused

/** A propane cylinder holds 42 % of its water weight; liquid of 0.51 gravity then fills 82 % of it. */
const PERCENT_FULL_AT_NOMINAL = (100 * 0.42) / 0.51

const isInTable = (capacityKg: number) => Math.abs(capacityKg / UNITS.lb.toBase - 100) <= 1

/**
 * The least contents (kg) and the coldest air (K) that the table or the vessel formula goes down to.
 *
 * @param capacityKg of the full cylinder
 */
export function propaneVapourMins(capacityKg: number): {
  remainingKg: number
  airTemperatureK: number
} {
  return isInTable(capacityKg)
    ? { remainingKg: 10 * UNITS.lb.toBase, airTemperatureK: kelvinFromFahrenheit(0) }
    : {
        remainingKg: (10 / PERCENT_FULL_AT_NOMINAL) * capacityKg,
        airTemperatureK: kelvinFromFahrenheit(-15),
      }
}

/**
 * Vapour that a propane cylinder gives continuously.
 *
 * @param input capacity and what is left (kg), air temperature (K); dimensions (m) for other sizes
 * @returns m³/s at 70 °F and 1 atm with its source; or a refusal outside the table
 * @remarks Straight lines between the table's rows and columns. Warmer than its last column counts as
 *   that column, fuller than its last row as that row: both give less, so they are safe.
 * @source LP-gas trade table for 100 lb; vessel formula Btu/h = D x L x K (in), K by percent full, with
 *   (air °F + 20)/20 from memory
 */
export function propaneVapourM3PerS(input: PropaneVapourInput): Vapour {
  return isInTable(input.capacityKg) ? fromTable(input) : fromDimensions(input)
}

function fromTable(input: PropaneVapourInput): Vapour {
  const leftLb = input.remainingKg / UNITS.lb.toBase
  const airF = fahrenheitFromKelvin(input.airTemperatureK)
  // A tenth of a cylinder given in kg may miss 10 lb in the last digit.
  if (!(leftLb >= 10 - 1e-6)) {
    return refuse([
      {
        code: 'OUTSIDE_TABLE',
        field: 'remainingKg',
        value: input.remainingKg,
        limit: { min: propaneVapourMins(input.capacityKg).remainingKg, unit: 'kg' },
      },
    ])
  }
  if (!(airF >= 0)) return tooCold(input.airTemperatureK, 0)
  const byAir = PROPANE_VAPOUR_AIR_F.map((columnF, column) => {
    const rows = PROPANE_VAPOUR_ROWS.map(
      (row) => [row.propaneLb, row.btuPerH[column] ?? 0] as const,
    )
    return [columnF, interpolateHeld([...rows].reverse(), leftLb)] as const
  })
  return vapour(interpolateHeld(byAir, airF), {
    formulaCode: 'propaneVapourTable',
    inputs: {
      remainingKg: [input.remainingKg, 'kg'],
      airTemperatureK: [input.airTemperatureK, 'K'],
    },
    provenance: 'read',
  })
}

function fromDimensions(input: PropaneVapourInput): Vapour {
  const { outsideDiameterM, overallLengthM } = input
  if (!outsideDiameterM || !overallLengthM) {
    return refuse([
      {
        code: 'NO_VAPOUR_TABLE',
        field: 'outsideDiameterM',
        value: outsideDiameterM ?? null,
        limit: { above: 0, unit: 'm' },
      },
    ])
  }
  const airF = fahrenheitFromKelvin(input.airTemperatureK)
  if (!(airF >= -15)) return tooCold(input.airTemperatureK, -15)
  const percentFull = (PERCENT_FULL_AT_NOMINAL * input.remainingKg) / input.capacityKg
  if (!(percentFull >= 10)) {
    return refuse([
      {
        code: 'OUTSIDE_TABLE',
        field: 'remainingKg',
        value: input.remainingKg,
        limit: { min: propaneVapourMins(input.capacityKg).remainingKg, unit: 'kg' },
      },
    ])
  }
  const k = interpolateMonotone(
    PROPANE_VESSEL_K.map((row) => [row.percentFull, row.k] as const),
    Math.min(60, percentFull),
  )
  const squareInches = (outsideDiameterM * overallLengthM) / UNITS.in.toBase ** 2
  const warmth = (Math.min(20, airF) + 20) / 20
  return vapour(squareInches * k * warmth, {
    formulaCode: 'propaneVapourVessel',
    inputs: {
      outsideDiameterM: [outsideDiameterM, 'm'],
      overallLengthM: [overallLengthM, 'm'],
      k: [k, 'Btu/(h in²)'],
      airTemperatureK: [input.airTemperatureK, 'K'],
    },
    provenance: 'from memory',
  })
}

function tooCold(airTemperatureK: number, minF: number): Refused {
  const limit = { min: kelvinFromFahrenheit(minF), unit: 'K' }
  return refuse([
    { code: 'OUTSIDE_TABLE', field: 'airTemperatureK', value: airTemperatureK, limit },
  ])
}

function vapour(
  btuPerH: number,
  from: {
    formulaCode: string
    inputs: Parameters<typeof source>[1]
    provenance: 'read' | 'from memory'
  },
): Vapour {
  const m3PerS = (btuPerH / PROPANE_BTU_PER_FT3) * UNITS['ft3/h'].toBase
  const known = { tableId: PROPANE_VAPOUR_ID, provenance: from.provenance }
  return { ok: true, m3PerS, source: source(from.formulaCode, from.inputs, known) }
}

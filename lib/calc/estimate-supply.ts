import { waterVolumeOf } from './contents-real-gas'
import type { CylinderSize } from './contents-types'
import type { SupplyNeed, SupplySize } from './estimate-types'
import type { GasCode } from './gas-data'
import { FUEL_HEEL_SHARE, OXYGEN_CHANGE_AT_PSIG } from './judgements'
import { oxygenContentsKg } from './oxygen-real-gas'
import { type Refusal, type Refused, refuse } from './refusal'
import type { Interval90 } from './source'
import { source, traced } from './trace'
import { gaugeKpaFromPsig } from './units'

type SupplyInput = {
  gas: GasCode
  size: SupplySize
  field: string
  need: Interval90
  onHandKg: number
  torchS: number
  airTemperatureK: number
}

type LeftAtChange = { ok: true; leftKg: number; gaugeKpa: number | null } | Refused

/**
 * Cylinders of one size for an amount of gas.
 *
 * @param input need with its interval, size, what is on hand, torch time, air temperature
 * @returns usable gas of a cylinder, cylinders in all and to order (by the high end), when to change
 * @source usable = nominal − what is left at change; oxygen left by `oxygenContentsKg`, fuel by heel
 */
export function supplyNeed(input: SupplyInput): ({ ok: true } & SupplyNeed) | Refused {
  const left = leftAtChange(input)
  if (!left.ok) return left
  const { need, onHandKg, size, field } = input
  const usableKg = size.nominalKg - left.leftKg
  if (!(usableKg > 0)) {
    return refuse([
      {
        code: 'OUT_OF_RANGE',
        field: `${field}.nominalKg`,
        value: size.nominalKg,
        limit: { above: left.leftKg, unit: 'kg' },
      },
    ])
  }
  const shortKg = Math.max(0, need.high90 - onHandKg)
  const from = source(
    'usablePerCylinder',
    {
      nominalKg: [size.nominalKg, 'kg'],
      leftKg: [left.leftKg, 'kg'],
      airTemperatureK: [input.airTemperatureK, 'K'],
    },
    { provenance: 'common practice' },
  )
  return {
    ok: true,
    gas: input.gas,
    sizeCode: size.sizeCode ?? null,
    usableKgPerCylinder: traced(usableKg, 'kg', from),
    cylindersInAll: wholeCylinders(need.high90, usableKg),
    shortKg,
    cylindersToOrder: wholeCylinders(shortKg, usableKg),
    changeAtGaugeKpa: left.gaugeKpa,
    changeAtRemainingKg: left.leftKg,
    torchSecondsPerCylinder: need.mean > 0 ? (usableKg / need.mean) * input.torchS : 0,
  }
}

function leftAtChange({ gas, size, field, airTemperatureK }: SupplyInput): LeftAtChange {
  const bad = positiveRefusal(`${field}.nominalKg`, size.nominalKg)
  if (bad) return refuse([bad])
  if (gas !== 'oxygen') {
    const leftKg = size.heelKg ?? FUEL_HEEL_SHARE * size.nominalKg
    if (leftKg >= 0) return { ok: true, leftKg, gaugeKpa: null }
    return refuse([
      {
        code: 'OUT_OF_RANGE',
        field: `${field}.heelKg`,
        value: leftKg,
        limit: { min: 0, unit: 'kg' },
      },
    ])
  }
  const gaugeKpa = size.changeAtGaugePressureKpa ?? gaugeKpaFromPsig(OXYGEN_CHANGE_AT_PSIG)
  const waterVolumeL = waterVolumeOf(size satisfies CylinderSize)
  if (waterVolumeL === null) {
    return refuse([
      {
        code: 'SIZE_INCOMPLETE',
        field: `${field}.waterVolumeL`,
        value: null,
        limit: { above: 0, unit: 'L' },
      },
    ])
  }
  if (!(gaugeKpa >= 0 && gaugeKpa <= 20_000)) {
    const limit = { min: 0, max: 20_000, unit: 'kPa' }
    return refuse([
      { code: 'OUT_OF_RANGE', field: `${field}.changeAtGaugePressureKpa`, value: gaugeKpa, limit },
    ])
  }
  const leftKg = oxygenContentsKg({
    gaugePressureKpa: gaugeKpa,
    temperatureK: airTemperatureK,
    waterVolumeL,
  })
  return { ok: true, leftKg, gaugeKpa }
}

function positiveRefusal(field: string, value: number): Refusal | null {
  if (value > 0 && Number.isFinite(value)) return null
  return { code: 'OUT_OF_RANGE', field, value, limit: { above: 0, unit: 'kg' } }
}

function wholeCylinders(kg: number, usableKg: number): number {
  // Exactly full is one cylinder, whatever the last digit of the division says.
  return Math.max(0, Math.ceil(kg / usableKg - 1e-9))
}

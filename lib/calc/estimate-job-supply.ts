import { supplyNeed } from './estimate-supply'
import type { EstimateInput, GasAmount, SupplyNeed, SupplySize } from './estimate-types'
import type { FuelCode } from './gas-data'
import { FUEL_HEEL_SHARE } from './judgements'
import type { Refusal } from './refusal'
import { STANDARD_TEMPERATURE_K } from './units'
import { withdrawal } from './withdrawal'
import type { WithdrawalOutcome } from './withdrawal-types'

/** A checked cut list, and the high end of its richest flame. */
type Job = { input: EstimateInput; fuel: FuelCode; richFuelM3PerS: number }

export type Supply = { oxygen: SupplyNeed | null; fuel: SupplyNeed | null; refusals: Refusal[] }

/** Cylinders of both gases, of the sizes given. */
export function jobSupply(
  job: Job,
  need: { oxygen: GasAmount; fuelGas: GasAmount; torchS: number },
): Supply {
  const { input } = job
  const refusals = gasRefusals(job)
  const one = (
    size: SupplySize | undefined,
    field: 'oxygenSize' | 'fuelSize',
    amount: GasAmount,
    onHandKg: number,
  ) => {
    if (!size || amount.gas === 'natural_gas') return null
    const airTemperatureK = input.airTemperatureK ?? STANDARD_TEMPERATURE_K
    const result = supplyNeed({
      gas: amount.gas,
      size,
      field,
      need: amount,
      onHandKg,
      torchS: need.torchS,
      airTemperatureK,
    })
    if (!result.ok) {
      refusals.push(...result.refusals)
      return null
    }
    const { ok: _ok, ...supply } = result
    return supply
  }
  return {
    oxygen: one(input.oxygenSize, 'oxygenSize', need.oxygen, input.onHand?.oxygenKg ?? 0),
    fuel: one(input.fuelSize, 'fuelSize', need.fuelGas, input.onHand?.fuelKg ?? 0),
    refusals,
  }
}

function gasRefusals({ input, fuel }: Job): Refusal[] {
  const wrong = (field: string, gas: string | undefined, allowed: string): Refusal[] =>
    gas === undefined || gas === allowed
      ? []
      : [{ code: 'UNKNOWN_GAS', field, value: gas, limit: { allowed: [allowed] } }]
  return [
    ...wrong('fuelSize.gas', input.fuelSize?.gas, fuel),
    ...wrong('oxygenSize.gas', input.oxygenSize?.gas, 'oxygen'),
  ]
}

/** Allowed draw of the fuel, and cylinders on a manifold for the richest flame of all torches together. */
export function jobWithdrawal({ input, fuel, richFuelM3PerS }: Job): WithdrawalOutcome | null {
  const size = input.fuelSize
  if (!size) return null
  const drawM3PerS = richFuelM3PerS * (input.torches ?? 1)
  const remainingKg = size.heelKg ?? FUEL_HEEL_SHARE * size.nominalKg
  if (fuel === 'acetylene') {
    const pattern = input.cuts.some((cut) => cut.process === 'machine')
      ? 'continuous'
      : 'intermittent'
    const { option, basis } = input.acetyleneDraw ?? {}
    const chosen = { ...(option ? { option } : {}), ...(basis ? { basis } : {}) }
    return withdrawal({
      gas: 'acetylene',
      capacityKg: size.nominalKg,
      remainingKg,
      pattern,
      drawM3PerS,
      ...chosen,
    })
  }
  if (fuel !== 'propane') return null
  const airTemperatureK = input.airTemperatureK ?? STANDARD_TEMPERATURE_K
  return withdrawal({
    gas: 'propane',
    capacityKg: size.nominalKg,
    remainingKg,
    airTemperatureK,
    drawM3PerS,
  })
}

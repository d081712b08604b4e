import type { Supply } from './estimate-job-supply'
import type { EstimateCost, EstimateInput, GasAmount, SupplySize } from './estimate-types'
import { gasCostMinor } from './gas-cost'

type CostInput = { oxygen: GasAmount; fuelGas: GasAmount; elapsedS: number; supply: Supply }

/** Cost of the gas used and of the crew's time, and of the cylinders to order. */
export function jobCost(
  input: EstimateInput,
  { oxygen, fuelGas, elapsedS, supply }: CostInput,
): EstimateCost | null {
  const prices = input.prices
  if (!prices) return null
  const used = (
    amount: GasAmount,
    size: SupplySize | undefined,
    cylinderMinor: number | undefined,
  ) => {
    if (!size || cylinderMinor === undefined) return null
    const perKg = cylinderMinor / size.nominalKg
    const { mean, standardUncertainty, low90, high90 } = amount
    return {
      mean: mean * perKg,
      standardUncertainty: standardUncertainty * perKg,
      low90: low90 * perKg,
      high90: high90 * perKg,
    }
  }
  const oxygenUsed = used(oxygen, input.oxygenSize, prices.oxygenCylinderMinor)
  const fuelUsed = used(fuelGas, input.fuelSize, prices.fuelCylinderMinor)
  const crew = prices.crewHourMinor === undefined ? null : (elapsedS / 3600) * prices.crewHourMinor
  const orders = [
    [supply.oxygen?.cylindersToOrder, prices.oxygenCylinderMinor],
    [supply.fuel?.cylindersToOrder, prices.fuelCylinderMinor],
  ].flatMap(([quantity, unitPriceMinor]) =>
    quantity === undefined || unitPriceMinor === undefined ? [] : [{ quantity, unitPriceMinor }],
  )
  return {
    currency: prices.currency,
    usedMinor: {
      oxygen: oxygenUsed,
      fuel: fuelUsed,
      crew,
      totalMean: (oxygenUsed?.mean ?? 0) + (fuelUsed?.mean ?? 0) + (crew ?? 0),
    },
    orderMinor: orders.length > 0 ? gasCostMinor(orders) : null,
  }
}

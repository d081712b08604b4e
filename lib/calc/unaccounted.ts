import { gasCostMinor } from './gas-cost'
import { Z_90 } from './stats'

type Amount = { kg: number; low90Kg: number; high90Kg: number }
export type Cost = { minor: number; low90Minor: number; high90Minor: number }

/**
 * Price of a kilogram by what full cylinders of its sizes cost.
 *
 * @param sizes nominal contents (kg, > 0) and the price of a fill (minor units, >= 0)
 * @returns the mean over sizes, minor units a kilogram; null without a price
 */
export function pricePerKg(
  sizes: readonly { nominalKg: number; fillMinor: number }[],
): number | null {
  if (sizes.length === 0) return null
  return sizes.reduce((sum, one) => sum + one.fillMinor / one.nominalKg, 0) / sizes.length
}

/** What gas that nobody accounts for is worth; gas that is there too much counts against it. */
export function costOf(amount: Amount, minorPerKg: number): Cost {
  const at = (kg: number) =>
    Math.sign(kg) * gasCostMinor([{ quantity: Math.abs(kg), unitPriceMinor: minorPerKg }])
  return {
    minor: at(amount.kg),
    low90Minor: at(amount.low90Kg),
    high90Minor: at(amount.high90Kg),
  }
}

/**
 * A sum of costs of balances that share no reading.
 *
 * @param variance the costs' own, summed, minor units²
 * @source sums in quadrature, GUM 5.1.2
 */
export function costBetween({ minor, variance }: { minor: number; variance: number }): Cost {
  const half = Z_90 * Math.sqrt(variance)
  return { minor, low90Minor: minor - half, high90Minor: minor + half }
}

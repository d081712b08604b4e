import { requireNumber } from './errors'

/**
 * Cost of what is used: quantities times unit prices, any units that cancel.
 *
 * @param lines quantity >= 0 and unit price >= 0, in minor units of one currency
 * @returns scalar, minor units, not rounded
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 */
export function gasCostMinor(
  lines: readonly { quantity: number; unitPriceMinor: number }[],
): number {
  return lines.reduce((sum, line) => {
    requireNumber('quantity', line.quantity, { min: 0 })
    requireNumber('unitPriceMinor', line.unitPriceMinor, { min: 0 })
    return sum + line.quantity * line.unitPriceMinor
  }, 0)
}

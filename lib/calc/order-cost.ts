/** One size of an order: how many, and what a fill of one costs; null where there is no price. */
export type OrderCostLine = { quantity: number; fillMinor: number | null }

/**
 * What an order costs: fills and one delivery, in minor units of the currency.
 *
 * @param input quantities (whole, >= 0), prices and the fee of one delivery, in minor units
 * @returns null where something is ordered that has no price; 0 where nothing is ordered
 * @source definition: rent and deposits come later and are not counted
 */
export function orderCostMinor(input: {
  lines: readonly OrderCostLine[]
  deliveryFeeMinor: number
}): number | null {
  const ordered = input.lines.filter((line) => line.quantity > 0)
  if (ordered.length === 0) return 0
  const fills = ordered.map((line) =>
    line.fillMinor === null ? null : line.quantity * line.fillMinor,
  )
  return fills.reduce<number | null>(
    (sum, fill) => (sum === null || fill === null ? null : sum + fill),
    input.deliveryFeeMinor,
  )
}

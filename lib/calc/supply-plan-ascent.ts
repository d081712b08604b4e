/** What units may be brought by, and what each way costs. */
export type OpenWays = Readonly<{
  /** By unit, by truck, at the lowest price of that truck. */
  costs: readonly Float64Array[]
  /** By truck. */
  fees: Float64Array
  /** Trucks from this one on may still come. */
  from: number
  /** By unit: what it costs without any of those. */
  now: Float64Array
}>

const NEAR = 1e-9

/**
 * What units cost at the least, the fees of trucks that may still come shared out among them: each unit offers more
 * and more for being brought, until those who gain by a truck have paid its fee (dual ascent for facility location).
 *
 * @returns a sum below which no choice of those trucks is, fees counted
 * @source D. Erlenkotter, A dual-based procedure for uncapacitated facility location, 1978 (from memory)
 */
export function ascendedCost({ costs, fees, from, now }: OpenWays): number {
  const slack = fees.slice()
  const offer = new Float64Array(costs.length)
  const open: number[] = []
  for (const [u, row] of costs.entries()) {
    let least = now[u] ?? 0
    for (let t = from; t < fees.length; t += 1) least = Math.min(least, row[t] ?? least)
    offer[u] = least
    if (least < (now[u] ?? 0) - NEAR) open.push(u)
  }
  let rising = open
  while (rising.length > 0)
    rising = rising.filter((u) => raised(u, { costs, slack, from, now, offer }))
  return offer.reduce((sum, one) => sum + one, 0)
}

/** Raises one unit's offer to where the next truck would be worth it; false where nothing is left to raise it by. */
function raised(
  u: number,
  known: Omit<OpenWays, 'fees'> & Readonly<{ slack: Float64Array; offer: Float64Array }>,
): boolean {
  const { costs, slack, from, offer, now } = known
  const row = costs[u]
  const at = offer[u] ?? 0
  if (!row) return false
  let next = now[u] ?? at
  let room = Number.POSITIVE_INFINITY
  for (let t = from; t < slack.length; t += 1) {
    const cost = row[t] as number
    if (cost <= at + NEAR) room = Math.min(room, slack[t] as number)
    else if (cost < next) next = cost
  }
  const by = Math.min(next - at, room)
  if (by <= NEAR) return false
  for (let t = from; t < slack.length; t += 1)
    if ((row[t] as number) <= at + NEAR) slack[t] = (slack[t] as number) - by
  offer[u] = at + by
  return by < room - NEAR && offer[u] < (now[u] ?? 0) - NEAR
}

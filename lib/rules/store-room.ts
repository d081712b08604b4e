import { findingsInForce, type StoreFinding, type storeScopes } from './finding'
import { type StandingLot, type StoreAreaFacts, storeAreaFindings } from './store-area'

/** Gases that a text counts together, and in what. */
export const STORE_GROUPS = {
  oxygen: { gasIds: ['oxygen'], unit: 'ft3' },
  fuel: { gasIds: ['acetylene', 'natural_gas'], unit: 'ft3' },
  lpg: { gasIds: ['propane', 'propylene', 'mps'], unit: 'lb' },
} as const
export type StoreGroup = keyof typeof STORE_GROUPS

/** What says how much may stand there; distances, partitions and the official's permit are no amount. */
const AMOUNTS: ReadonlySet<StoreFinding['code']> = new Set([
  'control_area',
  'separate_room',
  'lpg_indoors',
])
/** Nobody keeps more on a site: above it there is no limit. */
const MOST = 100_000
const STEPS = 40

/**
 * The most of a group of gases that may stand in an area by the amounts of the texts in force there.
 *
 * @param place whether it is indoors and sprinklered
 * @param scopes of the site's layers
 * @returns cubic feet at 70 °F and 1 atm, or pounds of LP-gas; null where no text in force sets an amount
 * @source by `storeAreaFindings`, asked for the amount at which it first says no
 */
export function mostInStore(
  place: StoreAreaFacts,
  group: StoreGroup,
  scopes: ReturnType<typeof storeScopes>,
): number | null {
  const [gasId] = STORE_GROUPS[group].gasIds
  const isAllowed = (amount: number) => {
    const lot: StandingLot = {
      gasId,
      nominalFt3: amount,
      nominalLb: amount,
      status: 'full',
      count: 1,
    }
    return findingsInForce(storeAreaFindings(place, [lot]), scopes).every(
      ({ code, verdict }) => verdict !== 'not_ok' || !AMOUNTS.has(code),
    )
  }
  if (isAllowed(MOST)) return null
  let [low, high] = [0, MOST]
  for (let step = 0; step < STEPS; step += 1) {
    const middle = (low + high) / 2
    if (isAllowed(middle)) low = middle
    else high = middle
  }
  return low
}

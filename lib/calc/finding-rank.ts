import type { CauseKind } from './hypotheses-types'

/** How soon somebody must look: gas that burns before gas that feeds fire, enclosed before open air. */
export const DANGERS = { fuelLeak: 3, oxygenLeakEnclosed: 2, otherLeak: 1, none: 0 } as const

const LEAKS: ReadonlySet<CauseKind> = new Set(['leak_idle', 'leak_in_use'])

/**
 * How dangerous a finding is by the most dangerous of its causes that is not ruled out.
 *
 * @param causes kinds with their probability; a leak of one in a hundred still counts
 * @param place whether the gas is a fuel, and whether it may be let go in an enclosed space
 * @source oxygen enrichment and fuel gas in enclosed spaces: common practice, no source
 */
export function dangerOf(
  causes: readonly { kind: CauseKind; probability: number }[],
  place: { isFuel: boolean; isEnclosed: boolean },
): number {
  const mayLeak = causes.some(
    ({ kind, probability }) => LEAKS.has(kind) && probability >= LEAST_PROBABILITY,
  )
  if (!mayLeak) return DANGERS.none
  if (place.isFuel) return DANGERS.fuelLeak
  return place.isEnclosed ? DANGERS.oxygenLeakEnclosed : DANGERS.otherLeak
}

const LEAST_PROBABILITY = 0.01

/** What gas is worth by the price of a full cylinder, in minor units of currency; null without a price. */
export function worthOf(
  sizeKg: number,
  { nominalKg, fillMinor }: { nominalKg: number; fillMinor: number | null },
): number | null {
  return fillMinor === null ? null : Math.round((Math.abs(sizeKg) / nominalKg) * fillMinor)
}

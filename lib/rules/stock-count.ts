/** What a count can make of one cylinder. */
export type CountLine =
  | 'found'
  | 'other_area'
  | 'other_site'
  | 'away'
  | 'on_the_way'
  | 'unknown'
  | 'missing'
  | 'gone'

export type CountedCylinder = Readonly<{
  status: string
  siteId: string | null
  areaId: string | null
}>
export type Sighting = Readonly<{ areaId: string | null }>

const AWAY: ReadonlySet<string> = new Set(['returned', 'at_test', 'lost', 'new'])

/**
 * What a count says of a cylinder, seen or not, beside what the record says.
 *
 * @param seen null when it was expected and nobody saw it
 * @param known null when its serial is not in the record
 */
export function countLine(
  siteId: string,
  seen: Sighting | null,
  known: CountedCylinder | null,
): CountLine {
  if (!known) return 'unknown'
  if (!seen) return 'missing'
  if (known.status === 'scrapped') return 'gone'
  if (AWAY.has(known.status)) return 'away'
  if (known.status === 'in_transit') return 'on_the_way'
  if (known.siteId !== siteId) return 'other_site'
  const isElsewhere = seen.areaId !== null && seen.areaId !== known.areaId
  return known.status !== 'in_use' && isElsewhere ? 'other_area' : 'found'
}

/** The event that a line becomes after a second look; null where a person must do something else first. */
export const EVENT_OF_LINE: Readonly<
  Record<CountLine, 'counted' | 'moved' | 'found' | 'unloaded' | 'lost' | null>
> = {
  found: 'counted',
  other_area: 'counted',
  other_site: 'moved',
  away: 'found',
  on_the_way: 'unloaded',
  missing: 'lost',
  unknown: null,
  gone: null,
}

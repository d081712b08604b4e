/** What a reading said, and which earlier one it puts right; null where it puts none right. */
export type CorrectableEvent = Readonly<{
  id: string
  correctsId: string | null
  gaugeKpa: number | null
  weightKg: number | null
  temperatureK: number | null
  contentsKg: number | null
  contentsUKg: number | null
  markedEmpty: boolean
}>

/**
 * Events as they should have been written: each correction's values stand where the entry that it puts right
 * stands, at that entry's moment and place. A correction of a correction reaches the first entry.
 *
 * @param events of one cylinder, oldest first
 * @returns the same events without the corrections, in the same order
 */
export function putRight<T extends CorrectableEvent>(events: readonly T[]): T[] {
  if (!events.some((one) => one.correctsId !== null)) return [...events]
  const placeOf = new Map<string, number>()
  const kept: T[] = []
  for (const event of events) {
    const place = event.correctsId === null ? undefined : placeOf.get(event.correctsId)
    const first = place === undefined ? undefined : kept[place]
    if (place === undefined || !first) {
      placeOf.set(event.id, kept.length)
      kept.push(event)
      continue
    }
    placeOf.set(event.id, place)
    const { gaugeKpa, weightKg, temperatureK, contentsKg, contentsUKg, markedEmpty } = event
    kept[place] = {
      ...first,
      gaugeKpa,
      weightKg,
      temperatureK,
      contentsKg,
      contentsUKg,
      markedEmpty,
    }
  }
  return kept
}

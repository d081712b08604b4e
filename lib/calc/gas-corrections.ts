import type { Hypothesis } from './hypotheses-types'
import type { ReadingCorrection } from './trail-rows'

/** What an accepted cause changes in the numbers; the record itself stays as it was written. */
export type GasCorrection = {
  kind: Hypothesis['kind']
  /** What a reading was meant to be. */
  readings: { eventId: string; contentsKg: number }[]
  /** By how much each balance is off for this reason, named by a reading that ends it, kg. */
  explained: { eventId: string; kg: number }[]
  /** Gas that the work before a reading used beyond what the readings show, kg. */
  used: { eventId: string; kg: number }[]
}

/**
 * The correction that follows from accepting a cause.
 *
 * @param hypothesis as `explainTrail` gave it
 * @returns readings replaced, balances accounted for, and use that a swap nobody logged had hidden
 */
export function correctionOf(
  hypothesis: Pick<Hypothesis, 'kind' | 'meant' | 'explains'>,
): GasCorrection {
  const { kind, meant, explains } = hypothesis
  const [first] = explains
  return {
    kind,
    readings: meant ? [{ eventId: meant.readingId, contentsKg: meant.contentsKg }] : [],
    explained: explains.map(({ readingId, kg }) => ({ eventId: readingId, kg })),
    used: kind === 'swap_not_logged' && first ? [{ eventId: first.readingId, kg: -first.kg }] : [],
  }
}

/** All corrections of a record as one, in the order they were made: a later one of the same reading holds. */
export function joinCorrections(corrections: readonly GasCorrection[]): {
  readings: Map<string, ReadingCorrection>
  explainedKg: Map<string, number>
} {
  const explainedKg = new Map<string, number>()
  for (const { eventId, kg } of corrections.flatMap((one) => one.explained))
    explainedKg.set(eventId, (explainedKg.get(eventId) ?? 0) + kg)
  const readings = new Map(
    corrections.flatMap((one) =>
      one.readings.map(({ eventId, contentsKg }) => [eventId, { contentsKg }] as const),
    ),
  )
  return { readings, explainedKg }
}

type StayRow = { eventId: string; cylinderId: string; isPutOn: boolean; gasKg: number }

/**
 * Readings of cylinders on outfits as they stand after corrections.
 *
 * Where a cylinder was swapped for a full one and back without a word, what hung there held more than any
 * one reading says: those before in the same stay are raised by it, so that the difference is what was used.
 *
 * @param readings oldest first within each cylinder
 * @returns the same readings in the same order, contents corrected
 */
export function correctStays<T extends StayRow>(
  readings: readonly T[],
  corrections: readonly GasCorrection[],
): T[] {
  const { readings: meant } = joinCorrections(corrections)
  const corrected = readings.map((one) => ({
    ...one,
    gasKg: meant.get(one.eventId)?.contentsKg ?? one.gasKg,
  }))
  for (const { eventId, kg } of corrections.flatMap((one) => one.used)) {
    const end = corrected.findIndex((one) => one.eventId === eventId)
    for (let i = end - 1; i >= 0; i -= 1) {
      const [reading, next] = [corrected[i], corrected[i + 1]]
      if (!reading || reading.cylinderId !== next?.cylinderId || next.isPutOn) break
      reading.gasKg += kg
    }
  }
  return corrected
}

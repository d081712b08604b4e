/** What an estimate put on one cut, kg in all, and for how many pieces. */
export type EstimatedCut = { cutId: string; count: number; oxygenKg: number; fuelKg: number }

/** Pieces that a log says were done; `cutId` null where it named no cut. */
export type LoggedPieces = { cutId: string | null; pieces: number }

export type DoneShare = {
  /** Share of the estimate's gas that belongs to the pieces done; over 1 where more was cut than estimated. */
  oxygen: number
  fuel: number
  /** Pieces done of cuts that the estimate does not know: their gas is in the use, not in the share. */
  unestimatedPieces: number
}

/**
 * How much of an estimate was really cut, so that use is compared with the estimate of the same work.
 *
 * @param cuts of the estimate, weights >= 0
 * @param logged pieces done, of any cuts
 * @returns shares by gas; null where the estimate puts no gas on any cut
 * @source definition of this library: within a cut, gas goes by pieces
 */
export function doneShare(
  cuts: readonly EstimatedCut[],
  logged: readonly LoggedPieces[],
): DoneShare | null {
  const doneOf = new Map<string | null, number>()
  for (const { cutId, pieces } of logged) doneOf.set(cutId, (doneOf.get(cutId) ?? 0) + pieces)
  const whole = { oxygenKg: 0, fuelKg: 0 }
  const done = { oxygenKg: 0, fuelKg: 0 }
  for (const cut of cuts) {
    const part = cut.count > 0 ? (doneOf.get(cut.cutId) ?? 0) / cut.count : 0
    for (const gas of ['oxygenKg', 'fuelKg'] as const) {
      whole[gas] += cut[gas]
      done[gas] += cut[gas] * part
    }
  }
  if (whole.oxygenKg <= 0 || whole.fuelKg <= 0) return null
  const known = new Set<string | null>(cuts.map((cut) => cut.cutId))
  return {
    oxygen: done.oxygenKg / whole.oxygenKg,
    fuel: done.fuelKg / whole.fuelKg,
    unestimatedPieces: logged
      .filter((log) => !known.has(log.cutId))
      .reduce((sum, log) => sum + log.pieces, 0),
  }
}

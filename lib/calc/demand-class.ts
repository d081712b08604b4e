/** Kinds of demand by how often it comes and how much its sizes differ. `sparse`: too little was seen to tell. */
export const DEMAND_CLASSES = ['smooth', 'erratic', 'intermittent', 'lumpy', 'sparse'] as const
export type DemandClass = (typeof DEMAND_CLASSES)[number]

/** Periods between demands at which it counts as intermittent, and spread of sizes at which as erratic. */
const ADI_CUT = 1.32
const CV2_CUT = 0.49

/** What a class is read from, summed over the periods seen. */
export type DemandSums = { periods: number; nonZero: number; total: number; totalSquares: number }

/**
 * Class of demand by its mean interval (ADI) and the squared coefficient of variation of its sizes.
 *
 * @param sums periods, periods with demand, and sum and sum of squares of the demand
 * @returns class, and the two measures; both null where there were fewer than two demands
 * @remarks Spread in the population form; the sample form puts more series among the lumpy.
 * @source Syntetos & Boylan, cut-offs 1.32 and 0.49 as read in the documentation of the R package m5
 */
export function classOf(sums: DemandSums): {
  demandClass: DemandClass
  interval: number | null
  sizeCv2: number | null
} {
  const { periods, nonZero, total, totalSquares } = sums
  if (nonZero < 2) return { demandClass: 'sparse', interval: null, sizeCv2: null }
  const interval = periods / nonZero
  const mean = total / nonZero
  const sizeCv2 = Math.max(0, totalSquares / nonZero / mean ** 2 - 1)
  const often = interval < ADI_CUT
  const even = sizeCv2 < CV2_CUT
  const demandClass = often ? (even ? 'smooth' : 'erratic') : even ? 'intermittent' : 'lumpy'
  return { demandClass, interval, sizeCv2 }
}

/**
 * Class of one series of demand.
 *
 * @param demand per period, none below nought
 * @returns as `classOf`
 */
export function demandClass(demand: readonly number[]): ReturnType<typeof classOf> {
  const sizes = demand.filter((value) => value > 0)
  return classOf({
    periods: demand.length,
    nonZero: sizes.length,
    total: sizes.reduce((sum, size) => sum + size, 0),
    totalSquares: sizes.reduce((sum, size) => sum + size ** 2, 0),
  })
}

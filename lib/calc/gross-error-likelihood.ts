import { quadraticForm, type Signature, sparseDot } from './reconcile-form'
import type { ResidualSystem } from './reconcile-types'

/** How well one cause explains what does not balance. */
export type Likelihood = {
  /** Twice the logarithm of the likelihood with the cause at its best size over that without it. */
  statistic: number
  /** Its best size, in the unit of the signature, and the variance of that. */
  size: number
  sizeVariance: number
}

/** A share of what a balance weighs, under which a cause touches nothing that is checked. */
const UNSEEN = 1e-12
/** Statistics this near, as a share, are one: solving by steps is no finer. */
const SAME_SHARE = 1e-6

/**
 * Generalised likelihood ratio of a cause with a known signature and an unknown size.
 *
 *     T = (fᵀ S⁻¹ r)² / (fᵀ S⁻¹ f)    b = (fᵀ S⁻¹ r) / (fᵀ S⁻¹ f)    var b = 1 / (fᵀ S⁻¹ f)
 *
 * @param system residuals of the balances with the inverse of their covariance
 * @param signature what one unit of the cause adds to each balance: a bias in a reading is its column of
 *   the balances, a leak at a job that job alone
 * @returns null where the cause touches no balance
 * @source Narasimhan & Mah 1987, generalised likelihood ratio
 */
export function likelihoodOf(system: ResidualSystem, signature: Signature): Likelihood | null {
  const weight = quadraticForm(system, signature)
  if (!(weight > UNSEEN * sizeOf(system, signature))) return null
  const size = sparseDot(signature, system.multipliers) / weight
  return { statistic: size * size * weight, size, sizeVariance: 1 / weight }
}

/** Σ |f|² S⁻¹ of its own places: what the form would be if nothing cancelled. */
function sizeOf(system: ResidualSystem, signature: Signature): number {
  const sum = signature.reduce(
    (total, { balance, effect }) => total + effect * effect * system.inverse(balance, balance),
    0,
  )
  return Number.isNaN(sum) ? 0 : sum
}

/**
 * Causes that the record cannot tell apart: those whose statistics are the same.
 *
 * @param statistics one a cause; null where nothing checks it, and it then stands in no set
 * @returns places of the causes, each set in rising order, the best set first
 * @source a bias and a leak with columns in proportion have the same ratio; see `likelihoodOf`
 */
export function equivalenceSets(statistics: readonly (number | null)[]): number[][] {
  const falling = statistics
    .flatMap((statistic, place) => (statistic === null ? [] : [{ statistic, place }]))
    .sort((a, b) => b.statistic - a.statistic || a.place - b.place)
  const sets: { best: number; places: number[] }[] = []
  for (const { statistic, place } of falling) {
    const open = sets.at(-1)
    if (open && open.best - statistic <= SAME_SHARE * open.best) open.places.push(place)
    else sets.push({ best: statistic, places: [place] })
  }
  return sets.map(({ places }) => places.sort((a, b) => a - b))
}

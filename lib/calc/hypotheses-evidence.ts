import { cumulative } from './distributions'
import type { Likelihood } from './gross-error-likelihood'

/** What is believed of a cause's size before the balances are looked at. */
export type SizePrior = {
  /** Signature units. */
  mean: number
  sd: number
  /** Share of the belief, where several sizes are thought of. */
  weight: number
  /** Gas can leak out and not in. */
  isPositive: boolean
}

export type Evidence = {
  /** Log of how much likelier the balances are with the cause than without. */
  logRatio: number
  /** The prior that carries most of it, by its place. */
  best: number
  /** Size under that prior, and its standard deviation. */
  size: number
  sd: number
}

const STANDARD = { family: 'normal', mean: 0, sd: 1 } as const
const LEAST_CHANCE = 1e-300

const logBelow = (z: number) => Math.log(Math.max(LEAST_CHANCE, cumulative(STANDARD, z)))

/**
 * How much a cause gains by the balances, its size not known but believed to lie somewhere.
 *
 *     with pull p = fᵀ S⁻¹ r and weight w = fᵀ S⁻¹ f, size ~ N(m, s²):
 *     A = w + 1/s²   B = p + m/s²   log = ½ (B²/A − m²/s² − ln s² A)   [+ ln Φ(B/√A) − ln Φ(m/s) above nought]
 *
 * @param likelihood of the cause's signature
 * @param priors at least one, sd above nought, weights that add up to 1
 * @returns log ratio over all priors, and the size under the best of them
 * @source normal prior and likelihood, integrated in closed form (own derivation)
 */
export function evidenceOf(
  { size, sizeVariance }: Likelihood,
  priors: readonly SizePrior[],
): Evidence {
  const weight = 1 / sizeVariance
  const pull = size * weight
  const parts = priors.map((prior) => {
    const precision = 1 / prior.sd ** 2
    const [a, b] = [weight + precision, pull + prior.mean * precision]
    const free = 0.5 * ((b * b) / a - prior.mean ** 2 * precision - Math.log(prior.sd ** 2 * a))
    const bound = prior.isPositive
      ? logBelow(b / Math.sqrt(a)) - logBelow(prior.mean / prior.sd)
      : 0
    return { log: Math.log(prior.weight) + free + bound, size: b / a, sd: 1 / Math.sqrt(a) }
  })
  const best = parts.reduce(
    (most, part, i) => (part.log > (parts[most]?.log ?? -Infinity) ? i : most),
    0,
  )
  const top = parts[best] ?? { log: -Infinity, size: 0, sd: 0 }
  const sum = parts.reduce((total, part) => total + Math.exp(part.log - top.log), 0)
  return { logRatio: top.log + Math.log(sum), best, size: top.size, sd: top.sd }
}

import logGamma from '@stdlib/math-base-special-gammaln'
import type { BaselineState } from './baseline-demand'
import { WEAK_PRIOR } from './baseline-demand'
import { requireNumber } from './errors'

/** What another site used: cylinders in so many days, and how alike it is to the new one, 0 to 1. */
export type LikeSite = Readonly<{ cylinders: number; days: number; likeness: number }>

/** What makes sites alike; each is known of a site before its first cut. */
export type SiteTraits = Readonly<{
  fuel: string
  process: string
  crewPeople: number
  indoors: boolean
}>

/** Fewer alike than this say too little to lean on. */
const LEAST_SITES = 3
const SHAPES = { least: Math.log(0.05), most: Math.log(500) }
const STEPS = 32
const GOLDEN = (Math.sqrt(5) - 1) / 2

/**
 * How alike two sites are, by what is known beforehand.
 *
 * @returns 0 to 1: another fuel or process halves it each, in or out of doors takes a fifth, crews by their ratio
 * @source own choice: the weights are not learned from data
 */
export function siteLikeness(a: SiteTraits, b: SiteTraits): number {
  const crews = Math.min(a.crewPeople, b.crewPeople) / Math.max(a.crewPeople, b.crewPeople, 1)
  return (
    (a.fuel === b.fuel ? 1 : 0.5) *
    (a.process === b.process ? 1 : 0.5) *
    (a.indoors === b.indoors ? 1 : 0.8) *
    (0.5 + crews / 2)
  )
}

/** The highest point of a function with one hill, by golden section: one new look a step. */
function peak(of: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high]
  let [left, right] = [b - GOLDEN * (b - a), a + GOLDEN * (b - a)]
  let [atLeft, atRight] = [of(left), of(right)]
  for (let step = 0; step < STEPS; step += 1) {
    if (atLeft > atRight) {
      ;[b, right, atRight] = [right, left, atLeft]
      left = b - GOLDEN * (b - a)
      atLeft = of(left)
    } else {
      ;[a, left, atLeft] = [left, right, atRight]
      right = a + GOLDEN * (b - a)
      atRight = of(right)
    }
  }
  return (a + b) / 2
}

/**
 * Log-likelihood of counts over exposures under a gamma prior, each site weighed by its likeness; terms
 * that hold neither A nor B are left out.
 */
export function priorLikelihood(sites: readonly LikeSite[], prior: BaselineState): number {
  const { cylinders: shape, days: rate } = prior
  return sites.reduce(
    (sum, site) =>
      sum +
      site.likeness *
        (logGamma(shape + site.cylinders) -
          logGamma(shape) +
          shape * Math.log(rate / (rate + site.days)) -
          site.cylinders * Math.log(rate + site.days)),
    0,
  )
}

/**
 * Where a site without history starts: the gamma prior that fits sites like it best.
 *
 * @param sites what others used; likeness weighs them, 0 leaves one out
 * @returns A cylinders over B days, as `learnBaseline` takes it; the weak default where fewer than three
 *   are alike or none used any
 * @throws {CalcError} OUT_OF_RANGE, naming the field
 * @source negative-binomial marginal likelihood with exposures (empirical Bayes), maximised over shape and mean
 */
export function priorFromSites(sites: readonly LikeSite[]): BaselineState & { sites: number } {
  for (const site of sites) {
    requireNumber('cylinders', site.cylinders, { min: 0 })
    requireNumber('days', site.days, { above: 0 })
    requireNumber('likeness', site.likeness, { min: 0, max: 1 })
  }
  const alike = sites.filter((site) => site.likeness > 0)
  const used = alike.reduce((sum, site) => sum + site.likeness * site.cylinders, 0)
  if (alike.length < LEAST_SITES || used === 0) return { ...WEAK_PRIOR, sites: alike.length }
  const rates = alike.map((site) => (site.cylinders + 0.1) / site.days)
  const [low, high] = [Math.log(Math.min(...rates) / 2), Math.log(Math.max(...rates) * 2)]
  const priorAt = (logShape: number, logMean: number): BaselineState => ({
    cylinders: Math.exp(logShape),
    days: Math.exp(logShape - logMean),
  })
  const bestMean = (logShape: number) =>
    peak((logMean) => priorLikelihood(alike, priorAt(logShape, logMean)), low, high)
  const logShape = peak(
    (one) => priorLikelihood(alike, priorAt(one, bestMean(one))),
    SHAPES.least,
    SHAPES.most,
  )
  return { ...priorAt(logShape, bestMean(logShape)), sites: alike.length }
}

import { CalcError, requireNumber } from './errors'

/** One job's use over its estimate, learned from gauges alone, and how much it counts, kg. */
export type FactorObservation = {
  siteId: string
  crewId: string
  ratio: number
  weight: number
  ageDays?: number
}

export type Factor = {
  factor: number
  standardUncertainty: number
  /** Share of the group's own record in its factor, 0 to 1. */
  credibility: number
  /** The group's own weighted ratio, before any shrinking. */
  ownRatio: number
  weight: number
  observations: number
}

export type CrewFactor = Factor & { siteId: string; crewId: string }

export type CrewFactors =
  | {
      isLearned: true
      /** Of all sites, for a new site. */
      company: { factor: number; standardUncertainty: number }
      sites: (Factor & { siteId: string })[]
      crews: CrewFactor[]
      /** Variance of one job's ratio at a weight of 1 kg. */
      withinVariance: number
      crewVariance: number
      siteVariance: number
    }
  | { isLearned: false; reason: 'TOO_FEW_CREWS' | 'TOO_FEW_JOBS'; crews: number; jobs: number }

/** Days in which an observation comes to count half. @source methods of this library, own choice */
const HALF_LIFE_DAYS = 180
/** Below these nothing is learned. @source methods of this library, own choice */
const LEAST_CREWS = 3
const LEAST_JOBS = 10
const MOST_ROUNDS = 500

/** Weighted means of a group and how far its observations scatter. */
export type GroupSums = { mean: number; weight: number; count: number; squares: number }

/** Weighted mean, weight and squared distances of a group. */
export function groupSums(values: readonly { value: number; weight: number }[]): GroupSums {
  const weight = values.reduce((sum, one) => sum + one.weight, 0)
  const mean = values.reduce((sum, one) => sum + one.weight * one.value, 0) / weight
  const squares = values.reduce((sum, one) => sum + one.weight * (one.value - mean) ** 2, 0)
  return { mean, weight, count: values.length, squares }
}

/**
 * Variance of one observation at unit weight, within groups.
 *
 * @throws {CalcError} OUT_OF_RANGE where no group has two observations
 */
export function varianceWithin(groups: readonly GroupSums[]): number {
  const freedom = groups.reduce((sum, one) => sum + one.count - 1, 0)
  if (freedom < 1) throw new CalcError('OUT_OF_RANGE', 'observations', freedom, { min: 1 })
  return groups.reduce((sum, one) => sum + one.squares, 0) / freedom
}

/**
 * Variance between groups, nought where the groups differ no more than their own scatter explains.
 *
 * @source Bühlmann & Straub, unbiased estimator; actuar credibility vignette
 */
export function varianceBetween(groups: readonly GroupSums[], within: number): number {
  const weight = groups.reduce((sum, one) => sum + one.weight, 0)
  const mean = groups.reduce((sum, one) => sum + one.weight * one.mean, 0) / weight
  const squares = groups.reduce((sum, one) => sum + one.weight * (one.mean - mean) ** 2, 0)
  const spread = weight - groups.reduce((sum, one) => sum + one.weight ** 2, 0) / weight
  return spread > 0 ? Math.max(0, (squares - (groups.length - 1) * within) / spread) : 0
}

export type Shrunk = {
  collective: number
  collectiveVariance: number
  groups: { credibility: number; factor: number; variance: number }[]
}

/**
 * Means drawn towards the collective as far as their own record is short.
 *
 *     Z = w/(w + s²/a)    m = Σ Z X / Σ Z    F = Z X + (1 − Z) m    var F = a (1 − Z) + (1 − Z)² a / Σ Z
 *
 * @param variances within (s²) and between (a), both >= 0; a = 0 puts every group on the collective
 * @source Bühlmann & Straub 1970, as in the actuar credibility vignette
 */
export function shrink(
  groups: readonly { mean: number; weight: number }[],
  { within, between }: { within: number; between: number },
): Shrunk {
  const credibilities = groups.map(({ weight }) =>
    between > 0 ? weight / (weight + within / between) : 0,
  )
  // Without a difference between groups they are weighed by their records.
  const weights = between > 0 ? credibilities : groups.map((one) => one.weight)
  const total = weights.reduce((sum, one) => sum + one, 0)
  const collective = groups.reduce((sum, one, g) => sum + (weights[g] ?? 0) * one.mean, 0) / total
  const collectiveVariance = between > 0 ? between / total : within / total
  return {
    collective,
    collectiveVariance,
    groups: groups.map(({ mean }, g) => {
      const credibility = credibilities[g] ?? 0
      return {
        credibility,
        factor: credibility * mean + (1 - credibility) * collective,
        variance: between * (1 - credibility) + (1 - credibility) ** 2 * collectiveVariance,
      }
    }),
  }
}

type Crew = GroupSums & { siteId: string; crewId: string }

/**
 * How each crew runs against the tables: crews within sites within the company, by two-level credibility.
 *
 * @param observations ratio > 0, weight > 0 (estimate times reliability, kg), age >= 0 days
 * @returns factors of crews, sites and company with their uncertainties; or that too little is known, and then
 *   the tables stand as they are
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @remarks Learn from use by readings alone, never from a balance that the estimate went into.
 * @source Jewell's hierarchical model with iterative estimators (Bühlmann & Gisler 2005), as the actuar
 *   credibility vignette has it; ageing: own choice, half in 180 days
 */
export function crewFactors(observations: readonly FactorObservation[]): CrewFactors {
  const crews = crewsOf(observations)
  const jobs = observations.length
  if (crews.length < LEAST_CREWS)
    return { isLearned: false, reason: 'TOO_FEW_CREWS', crews: crews.length, jobs }
  if (jobs < LEAST_JOBS || jobs <= crews.length)
    return { isLearned: false, reason: 'TOO_FEW_JOBS', crews: crews.length, jobs }
  const within = varianceWithin(crews)
  const { crewVariance, siteVariance } = iterate(crews, within)
  const bySite = sitesOf(crews)
  const levels = bySite.map((site) => shrink(site, { within, between: crewVariance }))
  const sites = shrink(levels.map(siteMean), {
    within: crewVariance || within,
    between: siteVariance,
  })
  return {
    isLearned: true,
    company: {
      factor: sites.collective,
      standardUncertainty: Math.sqrt(siteVariance + sites.collectiveVariance),
    },
    withinVariance: within,
    crewVariance,
    siteVariance,
    sites: bySite.map((site, i) => ({
      siteId: site[0]?.siteId ?? '',
      ...factorOf(
        sites.groups[i],
        groupSums(site.map((crew) => ({ value: crew.mean, weight: crew.weight }))),
      ),
      observations: site.reduce((sum, crew) => sum + crew.count, 0),
    })),
    crews: bySite.flatMap((site, i) => {
      const above = sites.groups[i] ?? { factor: 1, variance: 0 }
      return site.map((crew) => crewFactor(crew, above, { within, crewVariance }))
    }),
  }
}

function crewsOf(observations: readonly FactorObservation[]): Crew[] {
  const groups = new Map<string, FactorObservation[]>()
  for (const [i, one] of observations.entries()) {
    requireNumber(`observations.${i}.ratio`, one.ratio, { min: 0 })
    requireNumber(`observations.${i}.weight`, one.weight, { above: 0 })
    requireNumber(`observations.${i}.ageDays`, one.ageDays ?? 0, { min: 0 })
    const key = JSON.stringify([one.siteId, one.crewId])
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return [...groups.values()].map((group) => ({
    siteId: group[0]?.siteId ?? '',
    crewId: group[0]?.crewId ?? '',
    ...groupSums(
      group.map(({ ratio, weight, ageDays = 0 }) => ({
        value: ratio,
        weight: weight * 0.5 ** (ageDays / HALF_LIFE_DAYS),
      })),
    ),
  }))
}

function sitesOf(crews: readonly Crew[]): Crew[][] {
  const sites = new Map<string, Crew[]>()
  for (const crew of crews) sites.set(crew.siteId, [...(sites.get(crew.siteId) ?? []), crew])
  return [...sites.values()]
}

/** A site's mean by its crews' credibilities, and their sum as its weight. */
function siteMean(level: Shrunk): { mean: number; weight: number } {
  const weight = level.groups.reduce((sum, one) => sum + one.credibility, 0)
  return { mean: level.collective, weight: weight > 0 ? weight : 1 / level.collectiveVariance }
}

/** Both variances between, each from the other's credibilities, until they stand. */
function iterate(crews: readonly Crew[], within: number) {
  const sites = sitesOf(crews)
  let crewVariance = varianceBetween(crews, within)
  let siteVariance = crewVariance
  for (let round = 0; round < MOST_ROUNDS && crewVariance > 0; round += 1) {
    const before = crewVariance + siteVariance
    const levels = sites.map((site) => shrink(site, { within, between: crewVariance }))
    const freedom = crews.length - sites.length
    const squares = sites.map((site, i) =>
      site.reduce(
        (sum, crew, c) =>
          sum +
          (levels[i]?.groups[c]?.credibility ?? 0) *
            (crew.mean - (levels[i]?.collective ?? 0)) ** 2,
        0,
      ),
    )
    if (freedom > 0) crewVariance = squares.reduce((sum, one) => sum + one, 0) / freedom
    const means = levels.map(siteMean)
    const above = shrink(means, { within: crewVariance, between: siteVariance })
    siteVariance =
      sites.length > 1 && siteVariance > 0
        ? means.reduce(
            (sum, one, i) =>
              sum + (above.groups[i]?.credibility ?? 0) * (one.mean - above.collective) ** 2,
            0,
          ) /
          (sites.length - 1)
        : 0
    if (siteVariance < 1e-9 * crewVariance) siteVariance = 0
    if (crewVariance < 1e-9 * within * (crews.length / sumOfWeights(crews))) crewVariance = 0
    if (Math.abs(crewVariance + siteVariance - before) <= 1e-12 * before) break
  }
  return { crewVariance, siteVariance: crewVariance > 0 ? siteVariance : 0 }
}

const sumOfWeights = (crews: readonly Crew[]) => crews.reduce((sum, crew) => sum + crew.weight, 0)

function factorOf(shrunk: Shrunk['groups'][number] | undefined, sums: GroupSums): Factor {
  return {
    factor: shrunk?.factor ?? 1,
    standardUncertainty: Math.sqrt(shrunk?.variance ?? 0),
    credibility: shrunk?.credibility ?? 0,
    ownRatio: sums.mean,
    weight: sums.weight,
    observations: sums.count,
  }
}

function crewFactor(
  crew: Crew,
  site: { factor: number; variance: number },
  { within, crewVariance }: { within: number; crewVariance: number },
): CrewFactor {
  const credibility = crewVariance > 0 ? crew.weight / (crew.weight + within / crewVariance) : 0
  return {
    siteId: crew.siteId,
    crewId: crew.crewId,
    ...factorOf(
      {
        credibility,
        factor: credibility * crew.mean + (1 - credibility) * site.factor,
        variance: crewVariance * (1 - credibility) + (1 - credibility) ** 2 * site.variance,
      },
      crew,
    ),
  }
}

/**
 * How far one job lies from what its crew's factor says, in standard deviations.
 *
 * @param job ratio and weight (> 0) of the job, not among those that the factor was learned from
 * @source predictive variance s²/w + var F
 */
export function standardisedDifference(
  job: { ratio: number; weight: number },
  known: { factor: number; standardUncertainty: number; withinVariance: number },
): number {
  requireNumber('weight', job.weight, { above: 0 })
  const variance = known.withinVariance / job.weight + known.standardUncertainty ** 2
  return variance > 0 ? (job.ratio - known.factor) / Math.sqrt(variance) : 0
}

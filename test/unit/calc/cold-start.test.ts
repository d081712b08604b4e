import negativeBinomialQuantile from '@stdlib/stats-base-dists-negative-binomial-quantile'
import { describe, expect, test } from 'vitest'
import { baselineDemand, learnBaseline, WEAK_PRIOR } from '@/lib/calc/baseline-demand'
import { priorFromSites, priorLikelihood, siteLikeness } from '@/lib/calc/cold-start'
import { openChance } from '@/seed/random'

// Gaver & O'Muircheartaigh 1987: failures of ten pumps over thousands of hours (figures as in Mamba.jl's example).
const FAILURES = [5, 1, 5, 14, 3, 19, 1, 1, 4, 22]
const HOURS = [94.3, 15.7, 62.9, 126, 5.24, 31.4, 1.05, 1.05, 2.1, 10.5]
const pumps = FAILURES.map((cylinders, i) => ({ cylinders, days: HOURS[i] ?? 1, likeness: 1 }))

describe('where a new site starts', () => {
  test('no other prior near it fits the pumps better', () => {
    const found = priorFromSites(pumps)
    const best = priorLikelihood(pumps, found)
    for (const shape of [0.8, 0.95, 1, 1.05, 1.25])
      for (const rate of [0.8, 0.95, 1, 1.05, 1.25]) {
        const other = { cylinders: found.cylinders * shape, days: found.days * rate }
        expect(priorLikelihood(pumps, other)).toBeLessThanOrEqual(best + 1e-9)
      }
    // Between the raw rates' extremes, and above the pooled rate, as ten so unlike pumps ask for.
    expect(found.cylinders / found.days).toBeGreaterThan(75 / 350)
    expect(found.cylinders / found.days).toBeLessThan(4 / 2.1)
  })

  test('finds the prior that made-up sites were drawn from', () => {
    const chance = openChance('cold start')
    const sites = Array.from({ length: 1000 }, () => ({
      cylinders: negativeBinomialQuantile(chance.unit(), 2, 20 / (20 + 60)) + 0,
      days: 60,
      likeness: 1,
    }))
    const found = priorFromSites(sites)
    expect(found.cylinders).toBeCloseTo(2, 0)
    // Where all looked on as long, the likeliest mean is the plain one.
    const plain = sites.reduce((sum, site) => sum + site.cylinders, 0) / (60 * sites.length)
    expect(found.cylinders / found.days).toBeCloseTo(plain, 5)
    expect(Math.abs(plain - 0.1)).toBeLessThan(3 * 0.0026) // three standard errors of the draw
  })

  test('a site that is not alike does not count, and too few say nothing', () => {
    const unlike = { cylinders: 900, days: 10, likeness: 0 }
    expect(priorFromSites([...pumps, unlike])).toEqual(priorFromSites(pumps))
    expect(priorFromSites(pumps.slice(0, 2))).toEqual({ ...WEAK_PRIOR, sites: 2 })
    expect(priorFromSites(pumps.map((pump) => ({ ...pump, cylinders: 0 })))).toMatchObject(
      WEAK_PRIOR,
    )
  })

  test('two weeks of its own overrule it', () => {
    const prior = priorFromSites(pumps)
    const after = learnBaseline(new Array<number>(60).fill(2), prior)
    expect(baselineDemand(after, 1).mean).toBeGreaterThan(1.5)
  })

  test('the same work is alike, another fuel less so', () => {
    const here = { fuel: 'propane', process: 'hand', crewPeople: 4, indoors: false }
    expect(siteLikeness(here, here)).toBe(1)
    expect(siteLikeness(here, { ...here, fuel: 'acetylene' })).toBe(0.5)
    expect(siteLikeness(here, { ...here, crewPeople: 2 })).toBeCloseTo(0.75, 10)
  })
})

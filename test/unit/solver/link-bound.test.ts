import { describe, expect, test } from 'vitest'
import { ascendedCost } from '@/lib/calc/supply-plan-ascent'
import { planModel } from '@/lib/calc/supply-plan-model'
import type { PlanProblem } from '@/lib/calc/supply-plan-types'
import { linkBound, relax } from '@/lib/solver/link-bound'
import { runMilps } from '@/lib/solver/run-milp'
import { planCompany } from './plan-company'

const EXACT = { timeLimitS: 60, gap: 0 }

/** Trips from every site to every other, as a company with a truck of its own has them. */
function everyWay(problem: PlanProblem): PlanProblem {
  const siteIds = [...new Set(problem.cells.map((cell) => cell.siteId))]
  const routes = siteIds.flatMap((fromSiteId) =>
    siteIds
      .filter((toSiteId) => toSiteId !== fromSiteId)
      .map((toSiteId) => ({
        routeId: `${fromSiteId}>${toSiteId}`,
        fromSiteId,
        toSiteId,
        tripCost: 4000,
        hours: 2,
      })),
  )
  return { ...problem, routes }
}

describe('the bound of sites that own trucks link', () => {
  // HiGHS solves the whole program to the end, with whole numbers and without.
  test('is never above the least cost, and closer to it than parts of trucks are', async () => {
    const size = { sites: 3, gases: 1, sizes: 2, days: 4 }
    const companies = [0, 2, 4, 7].map((seed) => planCompany(`linked bound ${seed}`, size))
    const problems = [...companies, ...companies.slice(0, 2).map(everyWay)].filter(
      (problem) => problem.routes.length > 0,
    )
    const models = problems.map(planModel)
    const asks = models.map(({ milp }) => ({ milp, start: null }))
    const least = await runMilps(asks, EXACT)
    const parts = await runMilps(
      asks.map((ask) => ({ ...ask, isRelaxed: true })),
      EXACT,
    )
    let closer = 0
    for (const [i, problem] of problems.entries()) {
      const bound =
        (await linkBound(problem, relax(problem, EXACT), EXACT)) ?? expect.fail('no bound')
      expect(least[i]?.outcome).toBe('solved')
      expect(bound).toBeLessThanOrEqual((least[i]?.objective ?? Number.NaN) + 1e-4)
      expect(bound).toBeGreaterThanOrEqual((parts[i]?.objective ?? Number.NaN) - 1e-4)
      if (bound > (parts[i]?.objective ?? bound) + 1) closer += 1
    }
    expect(problems.length).toBeGreaterThan(2)
    expect(closer).toBeGreaterThan(problems.length / 3)
  }, 60_000)
})

test('a relaxation that time ran out for proves nothing', async () => {
  const problem = planCompany('stopped', { sites: 40, gases: 4, sizes: 3, days: 14 })
  const time = { timeLimitS: 0.05, gap: 0 }
  const relaxed = relax(problem, time)
  const answer = await relaxed.answer
  expect(answer).toMatchObject({ outcome: 'stopped', bound: null, duals: null })
  expect(await linkBound(problem, relaxed, time)).toBeNull()
})

describe('fees shared out among units', () => {
  // Three units cost 10 each without a truck and nothing with it: its fee of 12 is all that they can be made to pay.
  test('come to what the truck saves less its fee where one truck is all there is', () => {
    const costs = [1, 1, 1].map(() => Float64Array.of(0))
    const ways = { costs, fees: Float64Array.of(12), from: 0, now: Float64Array.of(10, 10, 10) }
    expect(ascendedCost(ways)).toBeCloseTo(12, 9)
    // A truck dearer than all it saves never comes.
    expect(ascendedCost({ ...ways, fees: Float64Array.of(31) })).toBeCloseTo(30, 9)
    expect(ascendedCost({ ...ways, from: 1 })).toBeCloseTo(30, 9)
  })

  test('are below what every choice of trucks costs', () => {
    // Cost of 4 units by 3 trucks and without, as whole numbers that no truck dominates.
    const rows = [
      [3, 9, 6],
      [8, 2, 7],
      [4, 6, 1],
      [9, 3, 5],
    ]
    const fees = [5, 6, 4]
    const now = [12, 11, 9, 10]
    const choices = Array.from({ length: 8 }, (_, set) =>
      fees.map((_, t) => ((set >> t) & 1) === 1),
    )
    const least = Math.min(
      ...choices.map((open) =>
        rows.reduce(
          (sum, row, u) => sum + Math.min(now[u] ?? 0, ...row.filter((_, t) => open[t])),
          fees.reduce((sum, fee, t) => sum + (open[t] ? fee : 0), 0),
        ),
      ),
    )
    const bound = ascendedCost({
      costs: rows.map((row) => Float64Array.from(row)),
      fees: Float64Array.from(fees),
      from: 0,
      now: Float64Array.from(now),
    })
    expect(bound).toBeLessThanOrEqual(least)
    expect(bound).toBeGreaterThan(0.8 * least)
  })
})

import { describe, expect, test } from 'vitest'
import { brokenLimits } from '@/lib/calc/supply-plan-check'
import { planCost } from '@/lib/calc/supply-plan-cost'
import { greedyPlan } from '@/lib/calc/supply-plan-greedy'
import { planModel } from '@/lib/calc/supply-plan-model'
import { planParts } from '@/lib/calc/supply-plan-parts'
import { planSite } from '@/lib/calc/supply-plan-site'
import { valuesOf } from '@/lib/calc/supply-plan-solution'
import { tripPlans } from '@/lib/calc/supply-plan-trips'
import type { PlanLine, PlanProblem, SupplyPlan } from '@/lib/calc/supply-plan-types'
import { runMilps } from '@/lib/solver/run-milp'
import { solvePlan } from '@/lib/solver/solve-plan'
import { planCompany } from './plan-company'

const EXACT = { timeLimitS: 60, gap: 0 }
const SMALL = { sites: 2, gases: 1, sizes: 1, days: 4 }

/** Every list of numbers from 0 up to each of the tops. */
function* counts(tops: readonly number[]): Generator<number[]> {
  const [top, ...rest] = tops
  if (top === undefined) yield []
  else for (let n = 0; n <= top; n += 1) for (const others of counts(rest)) yield [n, ...others]
}

/** The least cost over every plan there is, by trying them all. */
function bruteForce(problem: PlanProblem): number {
  const [cell] = problem.cells
  if (!cell) throw new Error('no cell')
  const line = (quantity: number): PlanLine[] =>
    quantity > 0 ? [{ gasId: cell.gasId, sizeId: cell.sizeId, quantity }] : []
  const visits = problem.suppliers.flatMap(({ supplierId, siteId, days }) =>
    days.map((day) => ({ supplierId, siteId, day })),
  )
  const backs = [...new Map(visits.map((one) => [`${one.siteId}${one.day}`, one])).values()]
  const trips = problem.routes.flatMap((route) => [0, 1].map((day) => ({ ...route, day })))
  let least = Number.POSITIVE_INFINITY
  // 0: no truck; 1: a truck for empties alone; else one cylinder fewer.
  for (const moved of counts(trips.map(() => 2)))
    for (const papers of counts(trips.map((_, i) => ((moved[i] ?? 0) > 0 ? 1 : 0))))
      for (const back of counts(backs.map(({ siteId }) => emptiesAt(problem, siteId))))
        for (const ordered of counts(visits.map(() => 5))) {
          const plan: SupplyPlan = {
            orders: visits.flatMap((visit, i) =>
              (ordered[i] ?? 0) > 0 ? [{ ...visit, lines: line((ordered[i] ?? 0) - 1) }] : [],
            ),
            moves: trips.flatMap(({ routeId, day }, i) =>
              (moved[i] ?? 0) > 0
                ? [{ routeId, day, papers: papers[i] === 1, lines: line(moved[i] ?? 0) }]
                : [],
            ),
            returns: backs.flatMap(({ siteId, day }, i) =>
              (back[i] ?? 0) > 0 ? [{ siteId, day, lines: line(back[i] ?? 0) }] : [],
            ),
          }
          const { total } = planCost(problem, plan)
          if (total < least && brokenLimits(problem, plan).length === 0) least = total
        }
  return least
}

function emptiesAt(problem: PlanProblem, siteId: string): number {
  const cell = problem.cells.find((one) => one.siteId === siteId)
  return (cell?.empty ?? 0) + (cell?.used.at(-2) ?? 0)
}

/** A company so small that every plan can be tried: one size, two trucks, few cylinders. */
function smallCompany(seed: number): PlanProblem {
  const company = planCompany(`small ${seed}`, SMALL)
  const grossKg = company.cells[0]?.grossKg ?? 1
  return {
    ...company,
    // Two cylinders on a trip, on the first two days; four on an order: what is tried below.
    fleet: {
      ...company.fleet,
      tradeKg: 2 * grossKg,
      papersKg: 2 * grossKg,
      driverHours: [4, 4, 0, 0],
    },
    cells: company.cells.map((cell, i) => ({
      ...cell,
      full: Math.min(cell.full, 2 + i),
      empty: Math.min(cell.empty, 1),
      used: cell.used.map((used) => Math.min(used, 1)),
      cover: cell.cover.map((cover) => Math.min(cover, 4)),
    })),
    suppliers: company.suppliers
      .filter((one) => one.supplierId === 'a')
      .map((one) => ({
        ...one,
        days: [seed % 2 === 0 ? 1 : 2],
        breaks: seed % 3 === 0 ? [{ from: 3, off: 400 }] : [],
        least: 1 + (seed % 2),
        most: 4,
      })),
  }
}

describe('the supply plan', () => {
  test.each([0, 1, 2, 3, 4, 5, 6, 7])(
    'costs as little as the best of all plans (%i)',
    async (seed) => {
      const problem = smallCompany(seed)
      const outcome = await solvePlan(problem, EXACT)
      if (!outcome.ok) throw new Error('no plan')
      expect(brokenLimits(problem, outcome.plan)).toEqual([])
      expect(outcome.cost.total).toBeCloseTo(bruteForce(problem), 6)
    },
  )

  test.each([0, 1, 2, 3, 4, 5])(
    'of a larger company keeps every limit and never costs more than the one made at once (%i)',
    async (seed) => {
      const problem = planCompany(`larger ${seed}`, { sites: 3, gases: 2, sizes: 2, days: 6 })
      const greedy = greedyPlan(problem)
      expect(brokenLimits(problem, greedy)).toEqual([])
      const outcome = await solvePlan(problem, { timeLimitS: 4, gap: 0.01 })
      if (!outcome.ok) throw new Error('no plan')
      expect(brokenLimits(problem, outcome.plan)).toEqual([])
      expect(outcome.cost.total).toBeLessThanOrEqual(planCost(problem, greedy).total + 1e-6)
    },
  )

  // HiGHS solves the whole program to the end; the search by trucks and prices of room knows nothing of it.
  test('of one site, by its trucks, is never below what the solver proves, and its bound never above', async () => {
    const ample = [0, 1, 2, 3, 4, 5].flatMap((seed) =>
      planParts({
        ...planCompany(`bound ${seed}`, {
          sites: 2,
          gases: 1 + (seed % 2),
          sizes: 1 + (seed % 3),
          days: 5 + (seed % 4),
        }),
        routes: [],
      }),
    )
    // Nothing there, small trucks, little room: empties that could go have not been brought yet.
    const short = ample.map((problem) => ({
      ...problem,
      cells: problem.cells.map((cell) => ({
        ...cell,
        full: 0,
        fixedIn: problem.cells[0]?.fixedIn ?? [],
      })),
      suppliers: problem.suppliers.map((one) => ({ ...one, most: 5 })),
    }))
    const problems = [...ample, ...short]
    const asks = problems.map((problem) => ({ milp: planModel(problem).milp, start: null }))
    const answers = await runMilps(asks, { timeLimitS: 60, gap: 0 })
    let close = 0
    for (const [i, problem] of problems.entries()) {
      const found = planSite(problem, 0)
      const least = answers[i]?.objective ?? Number.NaN
      expect(answers[i]?.outcome).toBe('solved')
      expect(found?.bound).toBeLessThanOrEqual(least + 1e-4)
      if (!found?.plan) continue
      expect(found.cost).toBeGreaterThanOrEqual(least - 1e-4)
      expect(brokenLimits(problem, found.plan)).toEqual([])
      if (i < ample.length && found.cost <= least * 1.01) close += 1
    }
    expect(close).toBeGreaterThan(0.8 * ample.length)
  })

  test('of sites that own trucks link is better than the one made at once before the solver is asked', async () => {
    let saved = 0
    for (let seed = 0; seed < 6; seed += 1) {
      const problem = planCompany(`linked ${seed}`, { sites: 4, gases: 2, sizes: 2, days: 8 })
      const greedy = planCost(problem, greedyPlan(problem)).total
      const outcome = await solvePlan(problem, { timeLimitS: 0.05, gap: 0 })
      if (!outcome.ok) throw new Error('no plan')
      expect(brokenLimits(problem, outcome.plan)).toEqual([])
      expect(outcome.cost.total).toBeLessThanOrEqual(greedy + 1e-6)
      saved += (greedy - outcome.cost.total) / greedy
    }
    expect(saved / 6).toBeGreaterThan(0.005)
  })

  // HiGHS solves the whole program to the end; the search by trips knows nothing of it.
  test('of linked sites, trip by trip, keeps every limit, gets cheaper and ends near what the solver proves', async () => {
    const problems = [0, 1, 2, 3, 4, 5].map((seed) => ({
      ...planCompany(`trips ${seed}`, { sites: 3, gases: 1 + (seed % 2), sizes: 2, days: 6 }),
      manifolds: [],
    }))
    const asks = problems.map((problem) => ({ milp: planModel(problem).milp, start: null }))
    const answers = await runMilps(asks, { timeLimitS: 60, gap: 0.001 })
    const excess = problems.map((problem, i) => {
      const plans = [...tripPlans(problem, 0.005)].filter((plan) => plan !== null)
      const costs = plans.map((plan) => planCost(problem, plan).total)
      for (const plan of plans) expect(brokenLimits(problem, plan)).toEqual([])
      for (const [at, cost] of costs.entries())
        if (at > 0) expect(cost).toBeLessThan(costs[at - 1] ?? 0)
      const bound = answers[i]?.bound ?? Number.NaN
      expect(costs.at(-1)).toBeGreaterThanOrEqual(bound - 1e-4)
      return (costs.at(-1) ?? Number.POSITIVE_INFINITY) / bound - 1
    })
    expect(problems.some((problem) => problem.routes.length > 0)).toBe(true)
    expect(excess.reduce((sum, one) => sum + one, 0) / excess.length).toBeLessThan(0.02)
  })

  test('a trip carries what is bought where it starts for where it goes', () => {
    const days = 6
    const none = new Array<number>(days).fill(0)
    const cell = {
      ...{ gasId: 'gas0', sizeId: 'size0', full: 0, inUse: 0, empty: 0, used: none, fixedIn: none },
      ...{ rentPerDay: 10, demurragePerDay: 0, demurrageFromDay: 0, runOutPerDay: 9000 },
      grossKg: 60,
    }
    const problem: PlanProblem = {
      days,
      cells: [
        { ...cell, siteId: 'yard', cover: none },
        { ...cell, siteId: 'bridge', cover: none.map((_, day) => (day >= 3 ? 3 : 0)) },
      ],
      suppliers: [
        {
          ...{ supplierId: 'a', siteId: 'yard', days: [1, 4], fee: 1000, least: 1, most: 60 },
          ...{ prices: { size0: 2000 }, breaks: [] },
        },
      ],
      routes: [{ routeId: 'r', fromSiteId: 'yard', toSiteId: 'bridge', tripCost: 3000, hours: 2 }],
      fleet: {
        ...{ tradeKg: 199, tradeEachKg: 99, papersKg: 199 },
        driverHours: none.map(() => 4),
        trainedHours: none,
      },
      storage: [],
      manifolds: [],
      coverIs: 'priced',
    }
    const best = [...tripPlans(problem, 0)].filter((plan) => plan !== null).at(-1)
    const lines = [{ gasId: 'gas0', sizeId: 'size0', quantity: 3 }]
    expect(best?.orders).toEqual([{ supplierId: 'a', siteId: 'yard', day: 1, lines }])
    expect(best?.moves).toEqual([expect.objectContaining({ routeId: 'r', lines })])
    // Goods, fee and trip, and rent from the day on which the truck came to the yard; short on no day.
    expect(best && planCost(problem, best).total).toBe(3 * 2000 + 1000 + 3000 + 3 * 10 * 5)
  })

  test('the program prices a plan as it costs', () => {
    for (let seed = 0; seed < 20; seed += 1) {
      const problem = planCompany(`priced ${seed}`, { sites: 3, gases: 2, sizes: 2, days: 6 })
      const plan = greedyPlan(problem)
      const model = planModel(problem)
      const values = valuesOf(problem, model, plan)
      const { offset, cost } = model.milp
      const priced = cost.reduce((sum, each, i) => sum + each * (values[i] ?? 0), offset)
      expect(priced).toBeCloseTo(planCost(problem, plan).total, 4)
    }
  })

  test('one made at once is there when the solver has no time', async () => {
    const problem = planCompany('hurry', { sites: 6, gases: 3, sizes: 3, days: 12 })
    const outcome = await solvePlan(problem, { timeLimitS: 0.05, gap: 0 })
    if (!outcome.ok) throw new Error('no plan')
    expect(outcome.cost.total).toBeLessThanOrEqual(outcome.greedyCost.total)
    expect(brokenLimits(problem, outcome.plan)).toEqual([])
  })

  test('tells which limit has to give way, and by how much', async () => {
    const base = smallCompany(1)
    const full = base.cells[0]?.full ?? 0
    const crowded: PlanProblem = {
      ...base,
      cells: base.cells.map((cell) => ({ ...cell, inUse: 1, fixedIn: [3, 0, 0, 0], empty: 0 })),
      storage: [{ siteId: 'site0', gasIds: ['gas0'], most: full + 2 }],
    }
    const outcome = await solvePlan(crowded, EXACT)
    if (outcome.ok) throw new Error('there is no such plan')
    // Full, one on an outfit and three that come anyway: two more than may stand there.
    expect(outcome.relax).toEqual([
      expect.objectContaining({ limit: 'storage', at: 'site0', by: expect.closeTo(2, 6) }),
    ])
  })

  test('cover that is required and comes too late is the limit that gives way', async () => {
    const base = smallCompany(1)
    const late: PlanProblem = {
      ...base,
      coverIs: 'required',
      routes: [],
      storage: [],
      cells: base.cells.slice(0, 1).map((cell) => ({
        ...cell,
        full: 0,
        fixedIn: [0, 0, 0, 0],
        used: [0, 0, 0, 0],
        cover: [2, 2, 2, 2],
      })),
    }
    const outcome = await solvePlan(late, EXACT)
    if (outcome.ok) throw new Error('there is no such plan')
    expect(outcome.relax).toEqual([
      expect.objectContaining({ limit: 'cover', at: 'site0', day: 0, by: expect.closeTo(2, 6) }),
    ])
  })
})

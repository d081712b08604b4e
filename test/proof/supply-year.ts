import {
  type SupplyYear,
  sameEveryWeek,
  simulateSite,
  whenOneIsLeft,
} from '@/lib/calc/supply-simulation'
import { byPlan, siteYear, usualWeek } from '../unit/calc/supply-year'

export const name =
  'Over a year the plan runs out at most a third as often as either rule of thumb, at no higher cost'

const SITES = 5
const YEARS = 6
const RUN_OUT_MINOR = 40_000
const RULES = ['the plan', 'order when one is left', 'the same every week'] as const

type Sum = { runOuts: number; short: number; cost: number; ordered: number; idle: number }
const add = (sum: Sum, year: SupplyYear): Sum => ({
  runOuts: sum.runOuts + year.runOuts,
  short: sum.short + year.shortCylinders,
  cost: sum.cost + year.cost,
  ordered: sum.ordered + year.ordered,
  idle: sum.idle + year.idleCylinderDays,
})

/** Made-up years at the demo company's sites, by its prices and truck days; the plan made anew every morning. */
export async function run() {
  const failures: string[] = []
  const ofAll = RULES.map((): Sum => ({ runOuts: 0, short: 0, cost: 0, ordered: 0, idle: 0 }))
  for (let year = 0; year < YEARS; year += 1) {
    const sums = RULES.map((): Sum => ({ runOuts: 0, short: 0, cost: 0, ordered: 0, idle: 0 }))
    for (let at = 0; at < SITES; at += 1) {
      const site = siteYear(`proof ${year}`, at)
      const usual = usualWeek(site)
      const rules = [
        byPlan(site),
        whenOneIsLeft(usual, site.nextTruck),
        sameEveryWeek(usual, site.nextTruck),
      ]
      for (const [i, rule] of rules.entries()) {
        const sum = sums[i]
        if (sum) sums[i] = add(sum, simulateSite(site.site, rule))
      }
    }
    const [plan, ...thumbs] = sums
    for (const [i, sum] of sums.entries())
      console.log(
        `    year ${year + 1}, ${RULES[i]}: ${sum.runOuts} run-outs, $${Math.round(sum.cost / 100)} of gas, trucks and rent, ${sum.ordered} cylinders, ${Math.round(sum.idle / 365)} idle a day`,
      )
    for (const [i, thumb] of thumbs.entries()) {
      const rule = RULES[i + 1]
      if (!plan || plan.runOuts * 3 > thumb.runOuts)
        failures.push(
          `year ${year + 1}: ${plan?.runOuts} run-outs against ${thumb.runOuts} of ${rule}`,
        )
      const all = (sum: Sum) => sum.cost + RUN_OUT_MINOR * sum.short
      if (plan && all(plan) > all(thumb)) failures.push(`year ${year + 1}: dearer than ${rule}`)
    }
    for (const [i, sum] of sums.entries()) {
      const all = ofAll[i]
      if (all)
        ofAll[i] = {
          runOuts: all.runOuts + sum.runOuts,
          short: all.short + sum.short,
          cost: all.cost + sum.cost,
          ordered: all.ordered + sum.ordered,
          idle: all.idle + sum.idle,
        }
    }
  }
  // A rule that ran short of what was used bought less: what it spent is told by the cylinder.
  const [planned, ...thumbs] = ofAll.map((sum) => sum.cost / sum.ordered)
  for (const [i, each] of thumbs.entries()) {
    console.log(
      `    all years: $${((planned ?? 0) / 100).toFixed(2)} a cylinder by the plan, $${(each / 100).toFixed(2)} by ${RULES[i + 1]}`,
    )
    if (planned === undefined || planned > each)
      failures.push(`a cylinder dearer than by ${RULES[i + 1]}`)
  }
  return { cases: YEARS * SITES * RULES.length, failures }
}

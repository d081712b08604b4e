import { conformalBound } from '@/lib/calc/conformal'
import { classOf } from '@/lib/calc/demand-class'
import { demandMean, demandVariance, emptyDemand, learnDemand } from '@/lib/calc/demand-methods'
import { criticalRatio, expectedCost, orderUpToLevel } from '@/lib/calc/order-level'
import { keepingCost } from '@/lib/calc/rent-or-run-out'
import { openChance } from '@/seed/random'

export const name = 'Forecasts on one core'

const SERIES = 100_000
const DAYS = 365
const MOST_S = 5
const MOST_DECISIONS_S = 2
const COVER_DAYS = 9
const SCORE = 2

/** A thousand different years, walked through by every hundredth series from another day on. */
function years(): Uint8Array[] {
  const chance = openChance('bench forecast')
  return Array.from({ length: 1000 }, () => {
    const often = chance.between(0.02, 0.6)
    return Uint8Array.from({ length: 2 * DAYS }, () =>
      chance.happens(often) ? chance.whole(1, 4) : 0,
    )
  })
}

/** A site and gas decided: service by what it costs, level by the quantile, its cost, and whether the last one pays its rent. */
function decide(chance: ReturnType<typeof openChance>): number {
  const from = performance.now()
  let levels = 0
  for (let site = 0; site < SERIES; site += 1) {
    const mean = chance.between(0.2, 12)
    const costs = { holding: chance.between(5, 20), shortage: chance.between(60, 400) }
    const demand = { mean, variance: mean * chance.between(1, 3), kind: 'count' as const }
    const level = orderUpToLevel({ demand, service: criticalRatio(costs) })
    const kept = keepingCost(
      { ratePerDay: mean / COVER_DAYS, rentPerDay: 0.4, demurragePerDay: 1, freeDays: 30 },
      Math.max(1, level),
    )
    levels += level + (kept.cost < expectedCost({ demand, level, costs }) ? 1 : 0)
  }
  if (!(levels > SERIES)) throw new Error('the decisions ordered nothing')
  return (performance.now() - from) / 1000
}

/** Each series learns its 365 days one by one, then says its class, its demand by TSB and its upper bound. */
export async function run() {
  const kinds = years()
  const from = performance.now()
  let bounds = 0
  for (let series = 0; series < SERIES; series += 1) {
    const year = kinds[series % kinds.length] ?? new Uint8Array()
    const first = series % DAYS
    const state = emptyDemand()
    for (let day = 0; day < DAYS; day += 1) learnDemand(state, year[first + day] ?? 0)
    const score = classOf(state).demandClass === 'lumpy' ? SCORE + 1 : SCORE
    const mean = COVER_DAYS * demandMean(state, 'tsb')
    bounds += conformalBound({ mean, variance: COVER_DAYS * demandVariance(state), score })
  }
  const seconds = (performance.now() - from) / 1000
  if (!(bounds > SERIES)) throw new Error('the forecasts asked for nothing')
  const decisions = decide(openChance('bench decisions'))
  return {
    'Forecast: 100,000 series of 365 days learned and bounded': {
      value: Math.round(seconds * 100) / 100,
      unit: 's',
      aim: `under ${MOST_S}`,
      holds: seconds < MOST_S,
    },
    'Orders: 100,000 decisions of one site and gas': {
      value: Math.round(decisions * 100) / 100,
      unit: 's',
      aim: `under ${MOST_DECISIONS_S}`,
      holds: decisions < MOST_DECISIONS_S,
    },
  }
}

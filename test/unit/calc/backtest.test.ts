import { describe, expect, test } from 'vitest'
import { type BacktestPlan, backtest, USUAL_BACKTEST } from '@/lib/calc/backtest'
import { coverage } from '@/lib/calc/forecast-accuracy'

const WEEKLY: BacktestPlan = {
  horizon: 7,
  origins: 12,
  learnFrom: 24,
  warmUp: 14,
  bound: 'ordered',
}
/** One cylinder every third day but the last fortnight, in which four days took two each. */
const surprised = Array.from({ length: 90 }, (_, day) =>
  day >= 76 && day < 80 ? 2 : day % 3 === 0 ? 1 : 0,
)

describe('a back-test whose windows share days', () => {
  test('says the same share, and is as unsure of it as of those that stand side by side', () => {
    const [row] = backtest([surprised, surprised], WEEKLY).byClass
    const held = row?.coverage[1] ?? expect.fail('nothing was judged')
    // 24 windows of seven days that end a day apart: 18 days, two times and four sevenths as long as one, twice.
    expect(row?.windows).toBe(24)
    const count = (2 * 18) / 7
    const wanted = coverage({ held: held.share * count, count })
    expect(held.low).toBeCloseTo(wanted.low, 12)
    expect(held.high).toBeCloseTo(wanted.high, 12)
    const asIfApart = coverage({ held: held.share * 24, count: 24 })
    expect(held.high - held.low).toBeGreaterThan(asIfApart.high - asIfApart.low)
  })

  test('judges the bound that is asked about: that of past misses alone, or the one an order covers', () => {
    // Two windows to learn from set no bound by past misses (19 are needed at 0.95); an order still covers its spread.
    const short = { ...WEEKLY, learnFrom: 2 }
    const [learned] = backtest([surprised], { ...short, bound: 'learned' }).byClass
    const [ordered] = backtest([surprised], short).byClass
    expect(learned?.coverage[1]?.share).toBe(0)
    expect(ordered?.coverage[1]?.share).toBeGreaterThanOrEqual(0.5)
    expect(USUAL_BACKTEST.bound).toBe('learned')
  })
})

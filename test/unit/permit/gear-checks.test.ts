import { describe, expect, test } from 'vitest'
import { dueChecks, OUTFIT_CHECKS, tipStanding, tipsWanted } from '@/lib/permit/gear-checks'

const standing = (
  check: 'shift_inspection' | 'leak_test' | 'annual',
  last: string,
  today: string,
) => dueChecks([check], { today, last: { [check]: last } })[0]

describe('the checks of an outfit', () => {
  test('that were never made are all named', () => {
    const due = dueChecks(OUTFIT_CHECKS, { today: '2026-03-01', last: {} })
    expect(due.map((one) => [one.check, one.standing])).toEqual(
      OUTFIT_CHECKS.map((check) => [check, 'never']),
    )
  })

  // Common practice, no source: a shift's look holds that day, a leak test a month.
  test.each([
    ['shift_inspection', '2026-03-01', '2026-03-01', 'done'],
    ['shift_inspection', '2026-03-01', '2026-03-02', 'due'],
    ['leak_test', '2026-03-01', '2026-03-23', 'done'],
    ['leak_test', '2026-03-01', '2026-03-24', 'soon'],
    ['leak_test', '2026-03-01', '2026-03-30', 'soon'],
    ['leak_test', '2026-03-01', '2026-03-31', 'due'],
  ] as const)('%s made %s stands on %s as %s', (check, last, today, expected) => {
    expect(standing(check, last, today)?.standing).toBe(expected)
  })

  test('name the day they fall due', () => {
    expect(standing('leak_test', '2026-02-10', '2026-02-11')?.dueOn).toBe('2026-03-12')
  })

  // 29 CFR 1910.157(e)(3), from memory: an annual maintenance check.
  test('an extinguisher looked after a year and a day ago is due', () => {
    expect(standing('annual', '2025-03-01', '2026-03-01')?.standing).toBe('soon')
    expect(standing('annual', '2025-03-01', '2026-03-02')?.standing).toBe('due')
  })
})

describe('the tips that cuts will need', () => {
  test('stand by size, with how many there are that serve', () => {
    const wanted = [
      { orificeM: 0.00117, cuts: 12 },
      { orificeM: 0.00152, cuts: 4 },
      { orificeM: 0.00117, cuts: 3 },
    ]
    expect(tipsWanted(wanted, [{ orificeM: 0.0012 }, { orificeM: 0.0011 }])).toEqual([
      { orificeM: 0.00117, cuts: 15, held: 2 },
      { orificeM: 0.00152, cuts: 4, held: 0 },
    ])
  })
})

// House judgement: looked at after 40 h, worn once a tenth wider than stamped.
test.each([
  [39.9, null, 'good'],
  [40, null, 'look'],
  [0, 0.00165, 'good'],
  [50, 0.00166, 'worn'],
] as const)('a tip of 1.5 mm after %d h, measured %s m, is %s', (hours, measuredM, standing) => {
  expect(tipStanding({ orificeM: 0.0015, measuredM, hoursSinceLook: hours })).toBe(standing)
})

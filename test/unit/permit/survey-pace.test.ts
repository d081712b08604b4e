import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { surveyPace } from '@/lib/permit/survey-pace'

const at = (second: number) => new Date(Date.UTC(2026, 3, 13, 13, 0, second))

describe('the pace of a survey', () => {
  // Once around at 35 ft is 2π × 10.668 m = 67.03 m; at 1.4 m/s (from memory) 47.9 s. 16 looks of 5 s
  // after the first (common practice, no source) are 80 s.
  test.each([
    [127, true],
    [128, false],
    [600, false],
  ])('17 things in %d s are answered too fast: %s', (tookS, isTooFast) => {
    const answeredAt = [at(0), at(30), at(tookS)]
    expect(surveyPace({ answeredAt, items: 17, otherLevels: 0 })).toEqual({
      tookS,
      leastS: 128,
      isTooFast,
    })
  })

  test('each other level that is drawn takes a while longer', () => {
    const pace = surveyPace({ answeredAt: [at(0), at(150)], items: 17, otherLevels: 1 })
    expect(pace).toEqual({ tookS: 150, leastS: 158, isTooFast: true })
  })

  test('one answer, or none, has no pace', () => {
    expect(surveyPace({ answeredAt: [], items: 17, otherLevels: 0 })).toBeNull()
    expect(surveyPace({ answeredAt: [at(0)], items: 17, otherLevels: 0 })).toBeNull()
  })

  test('more to look at, or less time for it, never takes a flag away', () => {
    const seconds = fc.array(fc.nat(600), { minLength: 2, maxLength: 20 })
    fc.assert(
      fc.property(seconds, fc.nat(30), fc.nat(4), fc.nat(5), (times, items, levels, more) => {
        const answeredAt = times.map(at)
        const base = surveyPace({ answeredAt, items, otherLevels: levels })
        const longer = surveyPace({ answeredAt, items: items + more, otherLevels: levels + more })
        expect(Number(longer?.isTooFast)).toBeGreaterThanOrEqual(Number(base?.isTooFast))
      }),
    )
  })
})

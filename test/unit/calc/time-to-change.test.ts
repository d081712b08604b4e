import { describe, expect, test } from 'vitest'
import { type TimeToChangeInput, timeToChange, timeToChangeAt } from '@/lib/calc/time-to-change'

const exact: TimeToChangeInput = {
  contentsKg: 3,
  contentsStandardUncertaintyKg: 0,
  reserveKg: 1,
  needKg: 4,
  needStandardUncertaintyKg: 0,
  needS: 7200,
}
const unsure: TimeToChangeInput = {
  ...exact,
  contentsStandardUncertaintyKg: 0.2,
  needStandardUncertaintyKg: 0.5,
}

/** Box-Muller from a fixed linear congruential generator, so that the check is the same each run. */
function* normals() {
  let state = 20_260_413
  const next = () => {
    state = (state * 1_664_525 + 1_013_904_223) % 2 ** 32
    return (state + 0.5) / 2 ** 32
  }
  for (;;) yield Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next())
}

describe('timeToChange', () => {
  test('is gas above the reserve over the draw when nothing is uncertain', () => {
    expect(timeToChange(exact)).toMatchObject({ low90S: 3600, middleS: 3600, high90S: 3600 })
  })

  test('says what is short of the cuts left', () => {
    expect(timeToChange(exact).shortKg.mean).toBeCloseTo(2, 12)
    expect(timeToChange({ ...exact, needKg: 1.5 }).shortKg).toMatchObject({
      mean: 0,
      low90: 0,
      high90: 0,
    })
  })

  test('agrees with drawing both quantities forty thousand times', () => {
    const draw = normals()
    const times = Array.from({ length: 40_000 }, () => {
      const usable = 2 + 0.2 * (draw.next().value ?? 0)
      return (usable / (4 + 0.5 * (draw.next().value ?? 0))) * 7200
    }).sort((a, b) => a - b)
    for (const chance of [0.05, 0.275, 0.5, 0.725, 0.95]) {
      const drawn = times[Math.floor(chance * times.length)] ?? Number.NaN
      expect(timeToChangeAt(unsure, chance)! / drawn).toBeCloseTo(1, 1.7)
    }
  })

  test('is never before now, and past naming when the draw may be nothing', () => {
    expect(timeToChange({ ...unsure, contentsKg: 0.9 }).low90S).toBe(0)
    expect(timeToChange({ ...unsure, needStandardUncertaintyKg: 3 }).high90S).toBeNull()
  })

  test.each([
    ['needKg', 0],
    ['needS', -1],
    ['contentsKg', Number.NaN],
  ] as const)('refuses %s of %d', (field, value) => {
    expect(() => timeToChange({ ...exact, [field]: value })).toThrow(
      expect.objectContaining({ field }),
    )
  })
})

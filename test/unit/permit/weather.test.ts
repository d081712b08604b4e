import { expect, test } from 'vitest'
import { fallsDue } from '@/lib/permit/due'
import type { PermitFacts } from '@/lib/permit/types'
import { weatherReasons } from '@/lib/permit/weather'
import { at, DUTIES, openPermit } from './build'

const windy = (windMph: number | null, isBanned = false): NonNullable<PermitFacts['weather']> => ({
  isBanned,
  windMph,
})
const LIMIT = { windMaxMph: 15 }

test.each([
  [undefined, LIMIT, []],
  [windy(null), LIMIT, []],
  [windy(15), LIMIT, []],
  [windy(15.1), LIMIT, ['wind_over']],
  [windy(40), { windMaxMph: null }, []],
  [windy(3, true), LIMIT, ['burn_ban']],
  [windy(20, true), LIMIT, ['burn_ban', 'wind_over']],
])('of %j at %j: %j', (weather, limit, expected) => {
  expect(weatherReasons(weather, limit).map((one) => one.code)).toEqual(expected)
})

test('an open permit in the open is held by what the weather forbids, one indoors is not', () => {
  const duties = { ...DUTIES, ...LIMIT, reinspectEveryHours: null }
  const facts = (weather?: PermitFacts['weather']) =>
    openPermit({ duties, ...(weather ? { weather } : {}) })
  expect(fallsDue({ facts: facts(), now: at(1) })).toEqual({ kind: 'nothing' })
  expect(fallsDue({ facts: facts(windy(22)), now: at(1) })).toEqual({
    kind: 'hold',
    reasons: [{ code: 'wind_over', params: { mph: 22, maxMph: 15 } }],
  })
})

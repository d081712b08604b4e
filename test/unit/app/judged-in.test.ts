import { expect, test } from 'vitest'
import { judgedIn } from '@/app/(app)/jobs/[jobId]/judged-in'
import type { CutInput } from '@/lib/calc/estimate-types'

const cut = (over: Partial<CutInput>): CutInput => ({
  id: 'a',
  material: 'carbon_steel',
  shape: { kind: 'squareBar', sideM: 0.05 },
  count: 1,
  ...over,
})

test('names each judged multiplier of a list once, and which were changed', () => {
  const cuts = [
    cut({ position: 'flat' }),
    cut({ position: 'overhead', conditions: ['wind', 'cold'] }),
    cut({ position: 'overhead', conditions: ['cold'] }),
    cut({}),
  ]
  expect(judgedIn(cuts, { cold: 1.4 })).toEqual([
    { code: 'overhead', multiplier: 1.3, isChanged: false },
    { code: 'cold', multiplier: 1.4, isChanged: true },
    { code: 'wind', multiplier: 1.15, isChanged: false },
  ])
  expect(judgedIn([cut({ position: 'flat' })])).toEqual([])
})

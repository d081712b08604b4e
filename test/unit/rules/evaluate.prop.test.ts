import fc from 'fast-check'
import { expect, test } from 'vitest'
import { loosened } from '@/lib/rules/compare'
import { evaluate } from '@/lib/rules/evaluate'
import { COMPANY_LAYER, companyLayer } from '@/lib/rules/layers'
import { resolveParameters } from '@/lib/rules/resolve'
import type { Evaluation, ResolvedParameters } from '@/lib/rules/types'
import { conditions, layer, layers } from './arbitrary'

/** Fails unless `more` is at least as strict as `less` in every single answer, and keeps every reason. */
function expectNotLooser(less: Evaluation, more: Evaluation): void {
  expect(loosened(less, more)).toEqual([])
  expect(more.reasons).toEqual(expect.arrayContaining([...less.reasons]))
}

test('adding a layer never loosens an answer', () => {
  fc.assert(
    fc.property(layers, layer, conditions, (some, extra, c) => {
      expectNotLooser(evaluate(some, c), evaluate([...some, extra], c))
    }),
    { numRuns: 300 },
  )
})

test('the company layer never loosens what the published layers ask', () => {
  fc.assert(
    fc.property(layers, conditions, fc.integer({ min: 0, max: 240 }), (some, c, postWatchMin) => {
      expectNotLooser(evaluate(some, c), evaluate([...some, companyLayer(2, { postWatchMin })], c))
    }),
    { numRuns: 300 },
  )
})

test('the order of the layers changes neither decision nor minutes', () => {
  fc.assert(
    fc.property(layers, conditions, (some, c) => {
      const [there, back] = [evaluate(some, c), evaluate(some.toReversed(), c)]
      expect(back.decision).toBe(there.decision)
      expect(back.postWatchMin).toBe(there.postWatchMin)
      expect(back.closeEarliestMin).toBe(there.closeEarliestMin)
    }),
    { numRuns: 150 },
  )
})

const AT_LEAST = [
  'watchMin',
  'finalCheckMin',
  'monitoringMin',
  'oxygenMinPct',
  'enclosedOxygenMinPct',
] as const
const AT_MOST = [
  'roundIntervalMin',
  'breakLimitMin',
  'gasTestValidMin',
  'oxygenMaxPct',
  'enclosedOxygenMaxPct',
  'lelMaxPct',
  'enclosedLelMaxPct',
  'capHours',
  'paiOnSiteWithinMin',
] as const

function expectParametersNotLooser(less: ResolvedParameters, more: ResolvedParameters): void {
  for (const name of AT_LEAST) expect(more[name].value).toBeGreaterThanOrEqual(less[name].value)
  for (const name of AT_MOST) expect(more[name].value).toBeLessThanOrEqual(less[name].value)
  expect(more.statementRequired.value || !less.statementRequired.value).toBe(true)
}

test('one more layer never shortens a duty nor widens a limit', () => {
  fc.assert(
    fc.property(layers, layer, (some, extra) => {
      expectParametersNotLooser(
        resolveParameters(some, COMPANY_LAYER),
        resolveParameters([...some, extra], COMPANY_LAYER),
      )
    }),
    { numRuns: 200 },
  )
})

test('a company that writes down laxer numbers than the texts gains nothing by it', () => {
  fc.assert(
    fc.property(layers, (some) => {
      const published = some.filter((one) => one.id !== 'company')
      const lax = companyLayer(2, {
        postWatchMin: 0,
        capHours: 1000,
        oxygenMinPct: 1,
        oxygenMaxPct: 99,
      })
      const resolved = resolveParameters(published, lax)
      const minutes = published.map((one) => one.parameters.postWatchMin ?? 0)
      expect(resolved.watchMin.value).toBe(Math.max(0, ...minutes))
      const given = (name: 'oxygenMinPct' | 'oxygenMaxPct') =>
        published.map((one) => one.parameters[name]).filter((value) => value !== null)
      expect(resolved.oxygenMinPct.value).toBe(Math.max(19.5, ...given('oxygenMinPct')))
      expect(resolved.oxygenMaxPct.value).toBe(Math.min(23.5, ...given('oxygenMaxPct')))
    }),
    { numRuns: 50 },
  )
})

import fc from 'fast-check'
import { expect, test } from 'vitest'
import { evaluate, isBlocking } from '@/lib/rules/evaluate'
import { COMPANY_LAYER, companyLayer } from '@/lib/rules/layers'
import { resolveParameters } from '@/lib/rules/resolve'
import type { Evaluation, ResolvedParameters } from '@/lib/rules/types'
import { DECISION_ORDER } from '@/lib/rules/types'
import { conditions, layer, layers } from './arbitrary'

const NEEDS = ['not_applicable', 'yes', 'judgement', 'no']

/** Fails unless `more` is at least as strict as `less` in every single answer. */
function expectNotLooser(less: Evaluation, more: Evaluation): void {
  expect(DECISION_ORDER.indexOf(more.decision)).toBeLessThanOrEqual(
    DECISION_ORDER.indexOf(less.decision),
  )
  expect(NEEDS.indexOf(more.required)).toBeLessThanOrEqual(NEEDS.indexOf(less.required))
  const asked = more.precautions.map((precaution) => precaution.id)
  expect(asked).toEqual(expect.arrayContaining(less.precautions.map((precaution) => precaution.id)))
  expect(more.reasons).toEqual(expect.arrayContaining([...less.reasons]))
  if (isBlocking(more.decision)) return
  expect(more.postWatchMin ?? 0).toBeGreaterThanOrEqual(less.postWatchMin ?? 0)
  expect(more.closeEarliestMin ?? 0).toBeGreaterThanOrEqual(less.closeEarliestMin ?? 0)
  expect(more.finalCheckMin ?? 0).toBeGreaterThanOrEqual(less.finalCheckMin ?? 0)
  expect(more.capHours ?? Infinity).toBeLessThanOrEqual(less.capHours ?? Infinity)
  expect(more.statementRequired || !less.statementRequired).toBe(true)
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
      expect(resolved.oxygenMinPct.value).toBe(19.5)
      expect(resolved.oxygenMaxPct.value).toBe(23.5)
    }),
    { numRuns: 50 },
  )
})

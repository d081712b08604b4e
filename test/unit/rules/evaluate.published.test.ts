import { describe, expect, test } from 'vitest'
import { findRule } from '@/lib/rules/catalogue'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { evaluate, isBlocking } from '@/lib/rules/evaluate'
import { RULESETS } from '@/lib/rules/layers'
import type { RulesetId } from '@/lib/rules/types'
import { PRECAUTION_IDS, RULESET_IDS } from '@/lib/rules/types'
import {
  conditionsOf,
  publishedDefaults,
  publishedPrecautions,
  publishedRulesets,
  vectors,
} from './vectors'

// Published: test/vectors/rules/permit-decision-vectors.json (its README names the texts).
const permitVectors = vectors.filter((one) => one.kind === 'permit')
const published = (need: string) => (need === 'not_applicable' ? 'n/a' : need)
const isOurs = (id: string): id is RulesetId => (RULESET_IDS as readonly string[]).includes(id)

// 29 CFR 1915.14 is in the rules and not in the vectors, which hold no shipyard space.
const SHIPYARD_CONDITIONS = { shipyardSpace: 'none', safeForHotWork: 'nobody' }
// Nor weather, nor a drop zone, nor a lone operator; and here a crew is approved once somebody says so, where the file's is until one denies it.
const OURS = {
  dropZone: 'none',
  loneOperator: false,
  burnBan: false,
  windMph: null,
  crewApproved: false,
}
const SHIPYARD_PRECAUTIONS = ['marine-chemist-certificate', 'competent-person-test']

test('the defaults and the precaution names are the published ones', () => {
  expect(DEFAULT_CONDITIONS).toEqual({
    ...(publishedDefaults as Record<string, unknown>),
    ...SHIPYARD_CONDITIONS,
    ...OURS,
  })
  expect([...PRECAUTION_IDS].sort()).toEqual(
    [...publishedPrecautions, ...SHIPYARD_PRECAUTIONS].sort(),
  )
})

test('the rulesets are the ten of the file', () => {
  expect([...RULESET_IDS].sort()).toEqual(publishedRulesets.toSorted())
})

test('the file holds the vectors that these tests were written for', () => {
  expect(permitVectors.length).toBe(54)
})

describe.each(permitVectors)('$id $title', (one) => {
  const conditions = conditionsOf(one)

  test.each(RULESET_IDS)('%s decides, watches and times as published', (id) => {
    const answer = evaluate([RULESETS[id]], conditions)
    expect({
      decision: answer.decision,
      required: published(answer.required),
      post_watch_min: answer.postWatchMin,
      close_earliest_min: answer.closeEarliestMin,
    }).toEqual({ decision: one.expected.decision[id], ...one.expected.fire_watch[id] })
  })

  test('asks for the published precautions', () => {
    const all = evaluate(
      RULESET_IDS.map((id) => RULESETS[id]),
      conditions,
    )
    const ours = all.precautions.map((precaution) => precaution.id as string)
    const someoneBlocks = Object.values(one.expected.decision).some(isBlocking)
    // Where any ruleset blocks, the published list holds the points of the vector only.
    if (someoneBlocks) expect(ours).toEqual(expect.arrayContaining(one.expected.precautions))
    else expect(ours.toSorted()).toEqual(one.expected.precautions.toSorted())
  })

  test('the strictest of several layers is the published combined answer', () => {
    for (const row of one.expected.strictest ?? []) {
      expect(row.layers.every(isOurs)).toBe(true)
      const answer = evaluate(
        row.layers.filter(isOurs).map((id) => RULESETS[id]),
        conditions,
      )
      expect(answer.decision).toBe(row.decision)
      expect(published(answer.required)).toBe(row.required)
      expect(answer.postWatchMin).toBe(row.post_watch_min)
      expect(answer.closeEarliestMin).toBe(row.close_earliest_min)
      if (row.statement_required !== undefined)
        expect(answer.statementRequired).toBe(row.statement_required)
    }
  })
})

test('every rule that a reason names is in the catalogue', () => {
  const open = permitVectors.flatMap((one) =>
    evaluate(
      RULESET_IDS.map((id) => RULESETS[id]),
      conditionsOf(one),
    ).reasons.filter((reason) => reason.ruleId !== null && findRule(reason.ruleId) === null),
  )
  expect(open).toEqual([])
})

import { describe, expect, test } from 'vitest'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { evaluate, isBlocking } from '@/lib/rules/evaluate'
import { RULESETS } from '@/lib/rules/layers'
import type { RulesetId } from '@/lib/rules/types'
import { PRECAUTION_IDS, RULESET_IDS } from '@/lib/rules/types'
import type { PermitVector } from './vectors'
import { conditionsOf, publishedDefaults, publishedPrecautions, vectors } from './vectors'

// Published: test/vectors/rules/permit-decision-vectors.json (its README names the texts).
const permitVectors = vectors.filter((one) => one.kind === 'permit')
const published = (need: string) => (need === 'not_applicable' ? 'n/a' : need)
const isOurs = (id: string): id is RulesetId => (RULESET_IDS as readonly string[]).includes(id)

/** A watch in every permit area is the British and Canadian rule; ours may want none there. */
function isAskedByOurs(one: PermitVector, id: string): boolean {
  return (
    id !== 'fire-watch' ||
    RULESET_IDS.some((ours) => one.expected.fire_watch[ours]?.required === 'yes')
  )
}

test('the defaults and the precaution names are the published ones', () => {
  expect(DEFAULT_CONDITIONS).toEqual(publishedDefaults)
  expect([...PRECAUTION_IDS].sort()).toEqual([...publishedPrecautions].sort())
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

  test('precautions agree with the published list as far as five of ten rulesets can', () => {
    const all = evaluate(
      RULESET_IDS.map((id) => RULESETS[id]),
      conditions,
    )
    const ours = all.precautions.map((precaution) => precaution.id as string)
    const someoneBlocks = Object.values(one.expected.decision).some(isBlocking)
    // Where any ruleset blocks, the published list holds the points of the vector only.
    if (!someoneBlocks) expect(one.expected.precautions).toEqual(expect.arrayContaining(ours))
    else
      expect(ours).toEqual(
        expect.arrayContaining(one.expected.precautions.filter((id) => isAskedByOurs(one, id))),
      )
  })

  test('the strictest of several layers is the published combined answer', () => {
    for (const row of one.expected.strictest ?? []) {
      if (!row.layers.every(isOurs)) continue
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

test('at least five published combinations are wholly among our rulesets', () => {
  const rows = permitVectors.flatMap((one) => one.expected.strictest ?? [])
  expect(rows.filter((row) => row.layers.every(isOurs)).length).toBeGreaterThanOrEqual(5)
})

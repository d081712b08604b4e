import { describe, expect, test } from 'vitest'
import { evaluateDrawn } from '@/lib/permit/drawing-conditions'
import { drawingFindings } from '@/lib/permit/drawing-findings'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { RULESETS } from '@/lib/rules/layers'
import type { RulesetId } from '@/lib/rules/types'
import { RULESET_IDS } from '@/lib/rules/types'
import { vector } from '../rules/vectors'
import { doorway, drawingOf, mark, pallets, sheet } from './drawn'

const drawn = (id: RulesetId, marks: Parameters<typeof drawingOf>[0]) =>
  evaluateDrawn([RULESETS[id]], DEFAULT_CONDITIONS, drawingOf(marks))

// Published: permit-decision-vectors.json, drawn instead of answered.
describe.each([
  ['pv-011', [doorway(30)]],
  ['pv-013', [doorway(40)]],
  ['pv-005', [pallets(20, { state: 'unprotectable' })]],
  ['pv-003', [pallets(20, { state: 'movable' })]],
] as const)('%s as a drawing', (id, marks) => {
  test.each(RULESET_IDS)('%s decides and times as published', (layer) => {
    const { expected } = vector(id)
    const answer = drawn(layer, marks)
    expect(answer.decision).toBe(expected.decision[layer])
    expect(answer.required === 'not_applicable' ? 'n/a' : answer.required).toBe(
      expected.fire_watch[layer]?.required,
    )
    expect(answer.postWatchMin).toBe(expected.fire_watch[layer]?.post_watch_min)
  })
})

// Openings "inside or on" the radius: 29 CFR 1910.252(a)(2)(iii)(A)(3) "within a 35-foot radius" (read);
// 1915.504(b)(1) has no distance for openings (read); 1926.352(e) has none (read); IFC 3504.1.2 has none
// (read) and watches in any case of exposure; NFPA 51B s.5.5 as OSHA (from memory); AS 1674.1: 15 m
// (from memory). 36 ft is under 15 m (49.2 ft).
const OPENING: Record<RulesetId, readonly [string, string, string]> = {
  'us-osha-1910': ['yes', 'yes', 'judgement'],
  'us-osha-1926': ['judgement', 'judgement', 'judgement'],
  'us-osha-1915': ['yes', 'yes', 'yes'],
  'us-ifc-2018': ['yes', 'yes', 'judgement'],
  'us-nfpa51b-2014': ['yes', 'yes', 'judgement'],
  'us-nfpa51b-2019': ['yes', 'yes', 'judgement'],
  'us-nfpa241-2022': ['yes', 'yes', 'judgement'],
  'uk-jcop10': ['yes', 'yes', 'yes'],
  'ca-nfc': ['yes', 'yes', 'yes'],
  'au-as1674-1': ['yes', 'yes', 'yes'],
}

// What burns "closer than 35 feet": 29 CFR 1910.252(a)(2)(iii)(A)(1) and 1915.504(b)(3) (read), so at
// 35.0 ft it is not; NFPA 51B likewise (from memory).
const BURNABLE: Record<RulesetId, readonly [string, string, string]> = {
  'us-osha-1910': ['yes', 'no', 'no'],
  'us-osha-1926': ['judgement', 'judgement', 'judgement'],
  'us-osha-1915': ['yes', 'no', 'no'],
  'us-ifc-2018': ['yes', 'judgement', 'judgement'],
  'us-nfpa51b-2014': ['yes', 'no', 'no'],
  'us-nfpa51b-2019': ['yes', 'no', 'no'],
  'us-nfpa241-2022': ['yes', 'no', 'no'],
  'uk-jcop10': ['yes', 'yes', 'yes'],
  'ca-nfc': ['yes', 'yes', 'yes'],
  'au-as1674-1': ['yes', 'yes', 'yes'],
}

describe.each(RULESET_IDS)('%s at 34, 35 and 36 ft', (id) => {
  test('an opening', () => {
    expect([34, 35, 36].map((feet) => drawn(id, [doorway(feet)]).required)).toEqual(OPENING[id])
  })

  test('something that burns', () => {
    expect([34, 35, 36].map((feet) => drawn(id, [pallets(feet)]).required)).toEqual(BURNABLE[id])
  })
})

// 29 CFR 1910.252(a)(2)(vii) (read): combustibles go at least 35 ft away.
test.each([
  [34, true],
  [35, false],
  [36, false],
])('pallets that can be moved, at %d ft, are asked away: %s', (feet, isAsked) => {
  const { precautions } = drawn('us-osha-1910', [pallets(feet, { state: 'movable' })])
  expect(precautions.some(({ id }) => id === 'relocate-combustibles-35ft')).toBe(isAsked)
})

// IFC 3504.2.6 (read): 2-A:20-B:C within 30 ft of the work.
test.each([
  [30, 2, 20, 'allowed_with_precautions'],
  [30.1, 2, 20, 'forbidden_until_corrected'],
  [10, 1, 10, 'forbidden_until_corrected'],
])('an extinguisher at %d ft rated %d-A:%d-B:C', (feet, ratingA, ratingB, decision) => {
  const one = mark('extinguisher', feet, { extinguisher: { ratingA, ratingB } })
  expect(drawn('us-ifc-2018', [one]).decision).toBe(decision)
})

// AS 1674.1 (from memory): 15 m, the metre taken as 1/0.3048 ft.
test.each([
  [15, 'yes'],
  [15.1, 'judgement'],
])('AS 1674.1 watches a doorway at %d m: %s', (distanceM, required) => {
  const at = { xM: 30.48 + distanceM, yM: 30.48 }
  const one = doorway(0, { at, measuredM: distanceM })
  expect(drawn('au-as1674-1', [one]).required).toBe(required)
})

// 29 CFR 1915.504(b)(3) (read) counts 35 ft horizontally and vertically; the guide to NFPA 51B in
// Massachusetts (read) a sphere. 30 ft along and 30 ft down is 42.4 ft apart: the strictest reading holds.
test('30 ft along and 30 ft below counts as 30 ft', () => {
  const sheets = [sheet('deck'), sheet('hold', -30)]
  const drawing = drawingOf([pallets(30, {}, { sheetId: 'hold' })], sheets)
  const [found] = drawingFindings(drawing, ['us-osha-1915'])
  expect(found?.distance).toMatchObject({ levelFt: 30, heightFt: 30, countedFt: 30 })
  expect(found?.distance?.straightFt).toBeCloseTo(42.426, 3)
  expect(found?.wordings).toMatchObject([{ ruleId: 'osha1915-fw-distance-3d', isCaught: true }])
})

describe('the words that are shown agree with what the rules decide', () => {
  const layers = ['us-osha-1910', 'us-osha-1915', 'us-nfpa51b-2019', 'au-as1674-1'] as const
  test.each(layers.flatMap((id) => [10, 34, 35, 36, 49, 50].map((feet) => [id, feet] as const)))(
    '%s at %d ft',
    (id, feet) => {
      const agree = (one: ReturnType<typeof doorway>) => {
        const [found] = drawingFindings(drawingOf([one]), [id])
        return [found?.wordings[0]?.isCaught, drawn(id, [one]).required === 'yes']
      }
      for (const one of [doorway(feet), pallets(feet), pallets(feet, { state: 'covered' })]) {
        const [said, decided] = agree(one)
        expect(said).toBe(decided)
      }
    },
  )
})

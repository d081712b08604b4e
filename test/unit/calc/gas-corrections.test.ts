import { describe, expect, test, vi } from 'vitest'
import { correctionOf, correctStays, joinCorrections } from '@/lib/calc/gas-corrections'
import { explainTrail } from '@/lib/calc/hypotheses'
import type { Trail } from '@/lib/calc/hypotheses-types'
import { type FaultKind, simulateCompany } from './trail-company'

// Whole companies are made up and explained: some seconds where the machine is busy.
vi.setConfig({ testTimeout: 60_000 })

/** The trail as it is looked at again after these were accepted. */
function corrected(trail: Trail, corrections: ReturnType<typeof correctionOf>[]): Trail {
  const { readings, explainedKg } = joinCorrections(corrections)
  return {
    ...trail,
    explainedKg,
    readings: trail.readings.map((one) => {
      const contentsKg = readings.get(one.id)?.contentsKg
      return contentsKg == null ? one : { ...one, gasKg: contentsKg, meantAs: () => [] }
    }),
  }
}

const FAULTS: FaultKind[] = ['leak_idle', 'swap_not_logged', 'reading_mistyped']

describe('what was accepted', () => {
  test.each(FAULTS)('of a %s is not found again, and nothing else is then', (kind) => {
    const { trail } = simulateCompany(`accepted ${kind}`, [kind])
    const [finding] = explainTrail(trail).findings
    const top = finding?.hypotheses[0]
    expect(top?.kind).toBe(kind)
    const again = corrected(trail, [correctionOf(top!)])
    expect(explainTrail(again).findings).toEqual([])
  })

  test('of all at once leaves nothing', () => {
    const { trail } = simulateCompany('accepted all', FAULTS)
    const { findings } = explainTrail(trail)
    expect(findings.length).toBeGreaterThanOrEqual(3)
    const corrections = findings.map((one) => correctionOf(one.hypotheses[0]!))
    expect(explainTrail(corrected(trail, corrections)).findings).toEqual([])
  })
})

describe('a swap that nobody logged', () => {
  const stay = (eventId: string, gasKg: number, isPutOn = false) => ({
    eventId,
    cylinderId: 'a',
    isPutOn,
    gasKg,
  })
  const correction = correctionOf({
    kind: 'swap_not_logged',
    meant: null,
    explains: [
      { readingId: 'e3', kg: -8 },
      { readingId: 'other', kg: 8 },
    ],
  })

  test('adds what the full one held to the use before the reading, and to no other', () => {
    const readings = [stay('e1', 9, true), stay('e2', 5), stay('e3', 6), stay('e4', 2)]
    const after = correctStays(readings, [correction]).map((one) => one.gasKg)
    expect(after).toEqual([17, 13, 6, 2])
    const used = after.slice(1).map((kg, i) => (after[i] ?? 0) - kg)
    expect(used).toEqual([4, 7, 4])
  })

  test('leaves an earlier stay and another cylinder as they were', () => {
    const readings = [
      { ...stay('x', 4), cylinderId: 'b' },
      stay('e0', 3),
      stay('e2', 9, true),
      stay('e3', 6),
    ]
    expect(correctStays(readings, [correction]).map((one) => one.gasKg)).toEqual([4, 3, 17, 6])
  })
})

test('a mistyped reading is replaced in a stay; without corrections nothing moves', () => {
  const reading = { eventId: 'e', cylinderId: 'a', isPutOn: true, gasKg: 1 }
  const correction = correctionOf({
    kind: 'reading_mistyped',
    meant: { readingId: 'e', contentsKg: 7 },
    explains: [],
  })
  expect(correctStays([reading], [correction])).toEqual([{ ...reading, gasKg: 7 }])
  expect(correctStays([reading], [])).toEqual([reading])
})

import { describe, expect, test } from 'vitest'
import { mayClose, mayMonitored, monitoringCheckDueAt } from '@/lib/permit/after-work'
import { gasReadingReasons, isInTestOrder } from '@/lib/permit/gas-test'
import type { FrozenDuties, PermitFacts } from '@/lib/permit/types'
import {
  elapsedHours,
  isGasOffDue,
  isUnattendedTooLong,
  lookDue,
  monitoringAdvice,
  mustKeepRecord,
  validityState,
} from '@/lib/rules/clocks'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { ALWAYS_LAYER, RULESETS } from '@/lib/rules/layers'
import type { RulesetId } from '@/lib/rules/types'
import { RULESET_IDS } from '@/lib/rules/types'
import { vector, vectors } from '../rules/vectors'
import { at, codes, dutiesUnder, NEAR, RAY, roundAt, watchedPermit } from './build'

// Published: test/vectors/rules/permit-decision-vectors.json (its README names the texts).

const isOurs = (id: unknown): id is RulesetId => (RULESET_IDS as readonly unknown[]).includes(id)
// Stock near by that stays and is left open: every ruleset wants, or judges, a watch.
const OPEN_STOCK = { ...NEAR, combustibleState: 'unprotected_open' } as const
type Input = Record<string, unknown>
const num = (value: unknown) => (typeof value === 'number' ? value : 0)

interface Ended {
  duties: FrozenDuties
  endMin: number
  nowMin: number
  watchedMin: number
  monitoredMin?: number
  checksAtMin?: readonly number[]
  surveyedMin?: number
}

/** A permit whose torch went out at `endMin`, watched and looked over as far as the vector says. */
function ended(life: Ended): PermitFacts {
  const { duties, endMin, nowMin, watchedMin } = life
  const checks = life.checksAtMin ?? (life.monitoredMin === undefined ? [] : [life.monitoredMin])
  const rounds = Array.from({ length: 40 }, (_, index) => endMin + (index + 1) * 10).filter(
    (m) => m <= nowMin,
  )
  const isStopgap = watchedMin < nowMin - endMin
  return watchedPermit(0, {
    duties,
    torchOutAt: at(endMin),
    rounds: rounds.map((minute) => roundAt(minute)),
    watchStints: [
      { personId: 'bea', onAt: at(endMin), offAt: isStopgap ? at(endMin + watchedMin) : null },
    ],
    finalLookAt: at(nowMin),
    monitoredAt: checks.length > 0 ? at(Math.max(...checks)) : null,
    monitoringChecksAt: checks.map((minute) => at(minute)),
    surveyedAt: life.surveyedMin === undefined ? null : at(life.surveyedMin),
    signatures: [
      { act: 'final_watch', personId: 'bea', signedAt: at(nowMin) },
      { act: 'final_pai', personId: RAY.id, signedAt: at(nowMin) },
    ],
  })
}

/** What the vectors call can_close: true, false, or the one thing that is missing. */
function canClose(facts: PermitFacts, nowMin: number): boolean | string {
  const left = codes(mayClose(facts, at(nowMin)))
  if (left.length === 0) return true
  if (mayClose({ ...facts, surveyedAt: at(nowMin) }, at(nowMin)).ok) return 'only_with_survey'
  return left.every((code) => code === 'statement_missing') ? 'statement_required' : false
}

describe.each(['tv-001', 'tv-003'])('%s, under each ruleset', (id) => {
  const one = vector(id)
  const input = one.input as Input
  const published = (one.expected as unknown as { can_close: Record<string, unknown> }).can_close

  test.each(RULESET_IDS)('%s closes as published', (ruleset) => {
    const nowMin = num(input.minutes_since_end)
    const facts = ended({
      duties: dutiesUnder([ruleset], { conditions: OPEN_STOCK }),
      endMin: 0,
      nowMin,
      watchedMin: num(input.continuous_watch_min),
    })
    expect(canClose(facts, nowMin)).toBe(published[ruleset])
  })
})

describe('tv-004: an hour of checks no more than 20 minutes apart, after the hour of watch', () => {
  const input = vector('tv-004').input as { ruleset: RulesetId; checks_at_min: number[] } & Input
  const duties = dutiesUnder([input.ruleset])
  const closes = (checksAtMin: readonly number[], nowMin: number) =>
    canClose(ended({ duties, endMin: 0, nowMin, watchedMin: 60, checksAtMin }), nowMin)

  test('closes at 120 as published', () => {
    expect(closes(input.checks_at_min, num(input.minutes_since_end))).toBe(true)
    expect(closes([80, 100, 119], 119)).toBe(false)
  })

  test('a gap of 21 minutes starts the hour of checks over', () => {
    expect(closes([80, 101, 120], 120)).toBe(false)
    expect(closes([80, 101, 121, 141, 161], 161)).toBe(true)
  })

  test('the next check is due 20 minutes after the last, and none after the hour', () => {
    const life = { duties, endMin: 0, watchedMin: 60 }
    const dueAfter = (checksAtMin: readonly number[], nowMin: number) =>
      monitoringCheckDueAt(ended({ ...life, nowMin, checksAtMin }), at(nowMin))
    expect(dueAfter([], 61)).toEqual(at(80))
    expect(dueAfter([75], 80)).toEqual(at(95))
    expect(dueAfter([75, 95, 110], 111)).toEqual(at(120))
    expect(dueAfter([80, 100, 120], 121)).toBeNull()
  })

  test('each check may be recorded while they are owed', () => {
    const facts = ended({ duties, endMin: 0, nowMin: 80, watchedMin: 60, checksAtMin: [] })
    expect(mayMonitored(facts, at(80)).ok).toBe(true)
  })
})

test('tv-014: a charged hose alone in an enclosed space', () => {
  const input = vector('tv-014').input as Input
  const limits = RULESETS['us-osha-1915'].parameters
  const hose = {
    space: 'enclosed',
    isCharged: true,
    unattendedMin: num(input.unattended_min),
  } as const
  expect(isUnattendedTooLong(limits, hose)).toBe(true)
  expect(isUnattendedTooLong(limits, { ...hose, unattendedMin: 15 })).toBe(false)
  expect(isUnattendedTooLong(limits, { ...hose, isCharged: false })).toBe(false)
  expect(isUnattendedTooLong(limits, { ...hose, space: 'open' })).toBe(false)
  const alone = { space: 'confined', isCharged: false, unattendedMin: 1 } as const
  expect(isUnattendedTooLong(limits, alone)).toBe(true)
})

test('pv-215: a survey ends the shipyard’s watch alone', () => {
  const one = vector('pv-215')
  const input = one.input as { rulesets: RulesetId[] } & Input
  const expected = one.expected as unknown as {
    can_close: Record<string, boolean>
    close_earliest_min: number
  }
  const nowMin = num(input.minutes_since_end)
  const closes = (ids: readonly RulesetId[], minute: number) => {
    const duties = dutiesUnder(ids, { conditions: OPEN_STOCK })
    const life = { duties, endMin: 0, nowMin: minute, watchedMin: minute, surveyedMin: nowMin }
    return canClose(ended(life), minute)
  }
  for (const id of input.rulesets) expect(closes([id], nowMin)).toBe(expected.can_close[id])
  expect(closes(input.rulesets, nowMin)).toBe(expected.can_close.strictest)
  expect(closes(input.rulesets, expected.close_earliest_min)).toBe(true)
})

function earliestMin(duties: FrozenDuties): number {
  return Math.max(duties.finalLookMin, duties.watchMin + duties.monitoringMin)
}

test('tv-006: sixty minutes of watch and the 120 that the PAI set make 180', () => {
  const one = vector('tv-006')
  const input = one.input as Input
  const expected = one.expected as unknown as { can_close: boolean; close_earliest_min: number }
  const duties = dutiesUnder(['us-nfpa51b-2019'], { monitoringMin: num(input.monitoring_set_min) })
  expect(earliestMin(duties)).toBe(expected.close_earliest_min)
  const nowMin = num(input.minutes_since_end)
  expect(
    canClose(
      ended({ duties, endMin: 0, nowMin, watchedMin: nowMin, monitoredMin: nowMin }),
      nowMin,
    ),
  ).toBe(expected.can_close)
  const endMin = expected.close_earliest_min
  expect(
    canClose(
      ended({ duties, endMin: 0, nowMin: endMin, watchedMin: endMin, monitoredMin: endMin }),
      endMin,
    ),
  ).toBe(true)
})

test('tv-007: more monitoring than the text speaks of is said, not refused', () => {
  const input = vector('tv-007').input as Input
  const { monitoringMaxMin } = RULESETS['us-nfpa51b-2019'].parameters
  expect(monitoringAdvice(num(input.monitoring_set_min), monitoringMaxMin)).toBe('longer_than_text')
  expect(monitoringAdvice(180, monitoringMaxMin)).toBe('within_text')
})

describe.each(['tv-008', 'pv-211'])('%s: only the last end of work counts', (id) => {
  const one = vector(id)
  const input = one.input as { ruleset: RulesetId; end_events_min: number[]; now_min: number }
  const expected = one.expected as unknown as { can_close: boolean; close_earliest_min: number }
  const duties = dutiesUnder([input.ruleset])
  const endMin = Math.max(...input.end_events_min)

  test('closes no earlier than published', () => {
    expect(endMin + earliestMin(duties)).toBe(expected.close_earliest_min)
    const now = input.now_min
    expect(canClose(ended({ duties, endMin, nowMin: now, watchedMin: now - endMin }), now)).toBe(
      expected.can_close,
    )
    const first = expected.close_earliest_min
    expect(
      canClose(ended({ duties, endMin, nowMin: first, watchedMin: first - endMin }), first),
    ).toBe(true)
  })
})

test('tv-009: elapsed time is not watched time', () => {
  const input = vector('tv-009').input as Input
  const nowMin = num(input.minutes_since_end)
  const duties = dutiesUnder(['us-osha-1910'])
  const facts = ended({ duties, endMin: 0, nowMin, watchedMin: num(input.continuous_watch_min) })
  expect(codes(mayClose(facts, at(nowMin)))).toContain('watch_owed')
})

describe.each(['tv-010', 'pv-212'])('%s: the cap is elapsed time', (id) => {
  const one = vector(id)
  const input = one.input as { ruleset: RulesetId; start: string; now: string }
  const expected = one.expected as unknown as { state: string; elapsed_hours?: number }

  test('is expired as published', () => {
    const [startedAt, now] = [new Date(input.start), new Date(input.now)]
    if (expected.elapsed_hours !== undefined)
      expect(elapsedHours(startedAt, now)).toBe(expected.elapsed_hours)
    const { capHours } = RULESETS[input.ruleset].parameters
    expect(validityState({ startedAt, now, capHours, isWatchRunning: false })).toBe(expected.state)
  })
})

test('pv-213: past 24 h no work, and the watch still runs', () => {
  const input = vector('pv-213').input as { start: string; work_ended: string; now: string }
  const [startedAt, now] = [new Date(input.start), new Date(input.now)]
  const { capHours } = RULESETS['us-nfpa51b-2014'].parameters
  expect(validityState({ startedAt, now, capHours, isWatchRunning: true })).toBe(
    'expired_watch_running',
  )
  expect(
    canClose(
      ended({ duties: dutiesUnder(['us-nfpa51b-2014']), endMin: 0, nowMin: 20, watchedMin: 20 }),
      20,
    ),
  ).toBe(false)
})

describe.each(['tv-012', 'tv-013', 'pv-214'])('%s: looking again', (id) => {
  const one = vector(id)
  const input = one.input as Input
  const ids = (Array.isArray(input.rulesets) ? input.rulesets : [input.ruleset]).filter(isOurs)
  const published = (one.expected as unknown as { state: string | Record<string, string> }).state

  test.each(ids)('%s is suspended or in force as published', (ruleset) => {
    const due = lookDue(RULESETS[ruleset].parameters, {
      isNewShift: input.shift_changed === true,
      hoursSinceLook: num(input.hours_since_review),
    })
    const state = due.length > 0 ? 'suspended_until_reinspection' : 'in_force'
    expect(state).toBe(typeof published === 'string' ? published : published[ruleset])
  })
})

test('tv-015: the fire code wants the gas shut off after an hour', () => {
  const input = vector('tv-015').input as Input
  expect(isGasOffDue(RULESETS['us-ifc-2018'].parameters, num(input.idle_min))).toBe(true)
  expect(isGasOffDue(RULESETS['us-ifc-2018'].parameters, num(input.idle_min) - 1)).toBe(false)
})

test('tv-016: the fire code keeps records 48 hours', () => {
  const input = vector('tv-016').input as Input
  expect(
    mustKeepRecord(RULESETS['us-ifc-2018'].parameters, num(input.hours_since_completion)),
  ).toBe(true)
  expect(mustKeepRecord(RULESETS['us-ifc-2018'].parameters, 49)).toBe(false)
})

test('pv-216: with no watch needed the permit still waits for the final look', () => {
  const duties = dutiesUnder(['us-nfpa51b-2014'], { conditions: DEFAULT_CONDITIONS })
  expect(duties).toMatchObject({ watchRequired: false, finalLookMin: 30 })
  expect(canClose(ended({ duties, endMin: 0, nowMin: 29, watchedMin: 0 }), 29)).toBe(false)
  expect(canClose(ended({ duties, endMin: 0, nowMin: 30, watchedMin: 0 }), 30)).toBe(true)
})

test('every time vector is covered here', () => {
  const covered = [
    'tv-001',
    'tv-003',
    'tv-004',
    'tv-006',
    'tv-007',
    'tv-008',
    'tv-009',
    'tv-010',
    'tv-012',
    'tv-013',
  ]
  covered.push('tv-014', 'tv-015', 'tv-016', 'pv-211', 'pv-212', 'pv-213', 'pv-214', 'pv-215')
  covered.push('pv-216')
  const left = vectors.filter(
    (one) => one.kind === 'time' && !covered.some((id) => one.id.startsWith(id)),
  )
  expect(left.map((one) => one.id)).toEqual([])
})

describe.each(vectors.filter((one) => one.kind === 'atmosphere'))('$id $title', (one) => {
  const input = one.input as Input
  const expected = one.expected as unknown as { hazardous?: boolean; valid?: boolean }
  const { parameters } = ALWAYS_LAYER
  const limits = {
    oxygenMinPct: num(parameters.oxygenMinPct),
    oxygenMaxPct: num(parameters.oxygenMaxPct),
    oxygenStopAtPct: parameters.oxygenStopAtPct,
    lelMaxPct: num(parameters.lelMaxPct),
    lelStopAtPct: parameters.lelStopAtPct,
    coMaxPpm: 50,
    h2sMaxPpm: 10,
  }

  test('is judged as published', () => {
    if (expected.valid !== undefined) {
      const names = { flammable: 'lel', oxygen: 'oxygen', toxic: 'toxic' } as const
      const sequence = (input.sequence as (keyof typeof names)[]).map((name) => names[name])
      expect(isInTestOrder(sequence)).toBe(expected.valid)
      expect(isInTestOrder(['oxygen', 'lel', 'toxic'])).toBe(true)
      return
    }
    const test = {
      takenAt: at(0),
      oxygenPct: num(input.oxygen_percent),
      lelPct: num(input.lfl_percent),
      coPpm: null,
      h2sPpm: null,
    }
    expect(gasReadingReasons(test, limits).length > 0).toBe(expected.hazardous)
  })
})

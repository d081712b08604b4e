import fc from 'fast-check'
import { expect, test } from 'vitest'
import { mayClose } from '@/lib/permit/after-work'
import { fallsDue, gasOffDue } from '@/lib/permit/due'
import { freezeDuties } from '@/lib/permit/duties'
import { gasTestReasons } from '@/lib/permit/gas-test'
import type { FrozenDuties, PermitFacts } from '@/lib/permit/types'
import { isUnattendedTooLong } from '@/lib/rules/clocks'
import type { Conditions } from '@/lib/rules/conditions'
import { evaluate, isBlocking } from '@/lib/rules/evaluate'
import { COMPANY_LAYER } from '@/lib/rules/layers'
import { resolveParameters } from '@/lib/rules/resolve'
import type { Layer } from '@/lib/rules/types'
import { layer, layers, workable } from '../rules/arbitrary'
import { at, openPermit, RAY, roundAt, watchedPermit } from './build'

// The company's layer is always there, as on every site, and its rounds are every ten minutes.
const published = layers.map((some) => some.filter((one) => one.id !== 'company'))
const extra = layer.filter((one) => one.id !== 'company')

type Answer = 'yes' | 'no' | null
function dutiesOf(some: readonly Layer[], c: Conditions, watchJudgement: Answer): FrozenDuties {
  return freezeDuties({
    evaluation: evaluate([...some, COMPANY_LAYER], c),
    parameters: resolveParameters(some, COMPANY_LAYER),
    isEnclosed: c.enclosed,
    watchJudgement,
    monitoringMin: 0,
    posts: ['deck 3', 'deck 2'],
  })
}
const answer = fc.constantFrom<Answer>('yes', 'no', null)
const pair = fc
  .tuple(published, extra, workable, answer)
  // A new edition replaces a layer; that is not adding one.
  .filter(([some, more]) => some.every((one) => one.id !== more.id))
  // Where a layer forbids the work no permit is issued, and nothing is frozen.
  .filter(([some, more, c]) => !isBlocking(evaluate([...some, more, COMPANY_LAYER], c).decision))
  .map(([some, more, c, judged]) => ({
    less: dutiesOf(some, c, judged),
    more: dutiesOf([...some, more], c, judged),
  }))

const AT_LEAST = ['watchMin', 'monitoringMin', 'finalLookMin', 'oxygenMinPct'] as const
const AT_MOST = [
  'roundIntervalMin',
  'gasTestValidMin',
  'oxygenMaxPct',
  'oxygenStopAtPct',
  'lelMaxPct',
  'lelStopAtPct',
  'coMaxPpm',
  'h2sMaxPpm',
  'breakLimitMin',
  'capHours',
  'paiOnSiteWithinMin',
  'reinspectEveryHours',
  'gasOffAfterIdleMin',
  'monitoringCheckEveryMin',
] as const
const FLAGS = [
  'watchRequired',
  'statementRequired',
  'gasTestNeeded',
  'gasTestContinuous',
  'reinspectEachShift',
] as const

test('one more layer never lowers a frozen duty', () => {
  fc.assert(
    fc.property(pair, ({ less, more }) => {
      for (const name of AT_LEAST) expect(more[name], name).toBeGreaterThanOrEqual(less[name])
      for (const name of AT_MOST)
        expect(more[name] ?? Infinity, name).toBeLessThanOrEqual(less[name] ?? Infinity)
      for (const name of FLAGS) expect(more[name] || !less[name], name).toBe(true)
      const short = (duties: FrozenDuties) => duties.watchMinAfterSurvey ?? duties.watchMin
      const shortLook = (duties: FrozenDuties) =>
        duties.finalLookMinAfterSurvey ?? duties.finalLookMin
      expect(short(more)).toBeGreaterThanOrEqual(short(less))
      expect(shortLook(more)).toBeGreaterThanOrEqual(shortLook(less))
    }),
    { numRuns: 300 },
  )
})

const minute = fc.integer({ min: 0, max: 330 })
/** A life after work: who was there, which rounds and looks were made, and when somebody asks to close. */
const life = fc.record({
  rounds: fc.subarray(Array.from({ length: 33 }, (_, index) => (index + 1) * 10)),
  leftAt: fc.option(minute),
  checks: fc.array(minute, { maxLength: 14 }).map((all) => all.toSorted((a, b) => a - b)),
  surveyedAt: fc.option(minute),
  statedAt: fc.option(minute),
  nowMin: minute,
})

type Life = typeof life extends fc.Arbitrary<infer T> ? T : never
function ended(duties: FrozenDuties, over: Life): PermitFacts {
  const { nowMin } = over
  const until = (all: readonly number[]) => all.filter((one) => one <= nowMin)
  const checks = until(over.checks)
  const made = (value: number | null) => (value !== null && value <= nowMin ? at(value) : null)
  return watchedPermit(0, {
    duties,
    torchOutAt: at(0),
    rounds: until(over.rounds).map((one) => roundAt(one)),
    watchStints: [{ personId: 'bea', onAt: at(0), offAt: made(over.leftAt) }],
    monitoringChecksAt: checks.map((one) => at(one)),
    monitoredAt: checks.length > 0 ? at(Math.max(...checks)) : null,
    surveyedAt: made(over.surveyedAt),
    statementAt: made(over.statedAt),
    finalLookAt: at(nowMin),
    signatures: [
      { act: 'final_watch', personId: 'bea', signedAt: at(nowMin) },
      { act: 'final_pai', personId: RAY.id, signedAt: at(nowMin) },
    ],
  })
}

test('what may close under one more layer may close without it', () => {
  fc.assert(
    fc.property(pair, life, ({ less, more }, over) => {
      // Rounds are judged on a grid of the interval; between two grids one life is not another's.
      fc.pre(less.roundIntervalMin === more.roundIntervalMin)
      const now = at(over.nowMin)
      if (mayClose(ended(more, over), now).ok)
        expect(mayClose(ended(less, over), now)).toEqual({ ok: true })
    }),
    { numRuns: 300 },
  )
})

const reading = fc.record({
  takenAt: fc.integer({ min: 0, max: 120 }).map(at),
  oxygenPct: fc.constantFrom(19.4, 19.5, 20.9, 21.9, 22, 23.5, 23.6),
  lelPct: fc.constantFrom(0, 1, 9.9, 10, 10.1),
  coPpm: fc.constantFrom(null, 0, 50, 51),
  h2sPpm: fc.constantFrom(null, 0, 10, 11),
})

test('air that is refused stays refused under one more layer', () => {
  fc.assert(
    fc.property(
      pair,
      fc.array(reading, { maxLength: 3 }),
      minute,
      ({ less, more }, tests, nowMin) => {
        if (gasTestReasons(tests, less, at(nowMin)).length > 0)
          expect(gasTestReasons(tests, more, at(nowMin))).not.toEqual([])
      },
    ),
    { numRuns: 300 },
  )
})

test('what time holds or ends, it holds or ends under one more layer', () => {
  const clock = fc.record({
    lookedMin: fc.integer({ min: -2000, max: 0 }),
    shiftMin: fc.option(fc.integer({ min: -2000, max: 0 })),
    heldMin: fc.integer({ min: -300, max: 0 }),
    unattendedMin: fc.integer({ min: 0, max: 30 }),
  })
  fc.assert(
    fc.property(pair, clock, ({ less, more }, { lookedMin, shiftMin, heldMin }) => {
      const open = (duties: FrozenDuties) =>
        openPermit({
          duties,
          lastLookAt: at(lookedMin),
          gasTests: [],
          shiftStartsAt: shiftMin === null ? [] : [at(shiftMin)],
        })
      const due = (duties: FrozenDuties) =>
        fallsDue({
          facts: open(duties),
          now: at(0),
        }).kind
      if (due(less) !== 'nothing') expect(due(more)).not.toBe('nothing')
      const held = (duties: FrozenDuties) =>
        gasOffDue(openPermit({ duties, state: 'held', heldAt: at(heldMin) }), at(0))
      if (held(less)) expect(held(more)).toBe(true)
    }),
    { numRuns: 200 },
  )
})

test('a hose too long alone is too long alone under one more layer', () => {
  const hose = fc.record({
    space: fc.constantFrom('open' as const, 'enclosed' as const, 'confined' as const),
    isCharged: fc.boolean(),
    unattendedMin: fc.integer({ min: 0, max: 30 }),
  })
  fc.assert(
    fc.property(published, extra, hose, (some, more, left) => {
      const limits = (all: readonly Layer[]) => {
        const resolved = resolveParameters(all, COMPANY_LAYER)
        return {
          unattendedEnclosedMaxMin: resolved.unattendedEnclosedMaxMin.value,
          unattendedConfinedMaxMin: resolved.unattendedConfinedMaxMin.value,
        }
      }
      if (isUnattendedTooLong(limits(some), left))
        expect(isUnattendedTooLong(limits([...some, more]), left)).toBe(true)
    }),
    { numRuns: 200 },
  )
})

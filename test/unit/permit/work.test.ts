import { describe, expect, test } from 'vitest'
import { fallsDue, gasOffDue } from '@/lib/permit/due'
import { mayGoBack, mayStop } from '@/lib/permit/stop'
import type { PermitFacts } from '@/lib/permit/types'
import type { LogInput, ResumeInput, SwapInput } from '@/lib/permit/work'
import { mayEndWork, mayHold, mayLog, mayReopen, mayResume, maySwap } from '@/lib/permit/work'
import { at, BEA, codes, DAY, DUTIES, OWEN, openPermit, person, RAY, watchedPermit } from './build'

const freshAir = (minute: number) => [
  { takenAt: at(minute), oxygenPct: 20.9, lelPct: 0, coPpm: 0, h2sPpm: 0 },
]
const heldPermit = (over: Partial<PermitFacts> = {}) =>
  openPermit({
    state: 'held',
    heldAt: at(60),
    torchOutAt: at(60),
    lastLookAt: at(80),
    gasTests: freshAir(81),
    openSpans: [{ from: at(0), to: at(60) }],
    ...over,
  })

const resume = (facts: PermitFacts, over: Partial<ResumeInput> = {}): ResumeInput => ({
  facts,
  signature: { act: 'resume', personId: RAY.id, signedAt: at(85) },
  operator: OWEN,
  pai: RAY,
  fireWatch: BEA,
  day: DAY,
  now: at(85),
  ...over,
})

describe('mayResume', () => {
  test('lets work go on after a new look, good air and the PAI', () => {
    expect(mayResume(resume(heldPermit()))).toEqual({ ok: true })
  })

  test.each<[string, Partial<PermitFacts>, Partial<ResumeInput>, string[]]>([
    ['the last look was before the hold', { lastLookAt: at(59) }, {}, ['look_missing']],
    ['smoke was seen after the look', { torchOutAt: at(82) }, {}, ['look_missing']],
    [
      'the look is older than a break may last',
      { lastLookAt: at(60) },
      { now: at(91) },
      ['look_too_old'],
    ],
    ['the gas test ran out', { gasTests: freshAir(25) }, {}, ['gas_test_expired']],
    ['the PAI has not signed', {}, { signature: null }, ['resume_signature_missing']],
    [
      'another person signed for the PAI',
      {},
      { signature: { act: 'resume', personId: BEA.id, signedAt: at(85) } },
      ['resume_signature_missing'],
    ],
    ['the permit has ended', { validUntil: at(85) }, {}, ['permit_ended']],
    [
      'it was stopped for good',
      { stopPressedAt: at(60), stoppedAt: at(61) },
      {},
      ['permit_stopped'],
    ],
    ['the first stop press was not taken back', { stopPressedAt: at(60) }, {}, ['stop_pressed']],
    [
      'the new operator is not qualified',
      {},
      { operator: person('n', 'New', { qualifications: [] }) },
      ['not_qualified'],
    ],
    ['it is open already', { state: 'open' }, {}, ['wrong_state']],
  ])('refuses when %s', (_, facts, over, expected) => {
    expect(codes(mayResume(resume(heldPermit(facts), over)))).toEqual(expected)
  })
})

test('a watch goes back to work only by a look after the torch went out', () => {
  const watch = watchedPermit(80, { lastLookAt: at(80), gasTests: freshAir(81) })
  expect(mayReopen(resume(watch))).toEqual({ ok: true })
  expect(codes(mayReopen(resume({ ...watch, lastLookAt: at(50) })))).toEqual(['look_missing'])
  expect(codes(mayReopen(resume({ ...watch, stoppedAt: at(70) })))).toEqual(['permit_stopped'])
})

const log = (over: Partial<LogInput> = {}): LogInput => ({
  facts: openPermit(),
  from: at(10),
  to: at(20),
  areaId: 'area',
  operator: OWEN,
  day: DAY,
  now: at(21),
  ...over,
})

describe('mayLog', () => {
  test('takes work inside the open time, and marks a late entry late', () => {
    expect(mayLog(log())).toEqual({ ok: true, isLate: false })
    expect(mayLog(log({ now: at(50) }))).toEqual({ ok: true, isLate: false })
    expect(mayLog(log({ now: at(51) }))).toEqual({ ok: true, isLate: true })
  })

  test('takes a late entry about open time after the permit has gone to the watch', () => {
    expect(mayLog(log({ facts: watchedPermit(70), now: at(75) }))).toMatchObject({ ok: true })
  })

  test.each<[string, Partial<LogInput>, string[]]>([
    [
      'it began before the permit opened',
      { from: at(-1) },
      ['outside_open_time', 'operator_not_on'],
    ],
    [
      'it ran over the end of the open span',
      { facts: watchedPermit(70), from: at(50), to: at(61), now: at(75) },
      ['outside_open_time', 'operator_not_on'],
    ],
    ['it ends in the future', { now: at(19) }, ['time_future']],
    ['it ends before it begins', { from: at(20), to: at(10) }, ['time_order']],
    ['it was in another area', { areaId: 'other' }, ['wrong_area']],
    ['its operator was not on', { operator: RAY }, ['operator_not_on']],
    ['its operator is unknown', { operator: undefined }, ['not_qualified', 'operator_not_on']],
  ])('refuses work when %s', (_, over, expected) => {
    expect(codes(mayLog(log(over)))).toEqual(expected)
  })

  test('a hold in the middle splits the open time: work across it is outside', () => {
    const facts = openPermit({
      openSpans: [
        { from: at(0), to: at(12) },
        { from: at(18), to: null },
      ],
    })
    expect(codes(mayLog(log({ facts })))).toEqual(['outside_open_time'])
  })
})

const swap = (over: Partial<SwapInput['on']> = {}, act: Partial<SwapInput> = {}): SwapInput => ({
  facts: { state: 'open' },
  siteId: 'site',
  outfitId: 'o7',
  sideGas: 'acetylene',
  off: { id: 'c1' },
  on: {
    id: 'c2',
    serial: 'AC-1',
    gas: 'acetylene',
    siteId: 'site',
    isEmpty: false,
    isQuarantined: false,
    outfit: null,
    ...over,
  },
  isShut: true,
  isBled: true,
  isLeakTested: true,
  ...act,
})

test.each<[string, SwapInput, string[]]>([
  ['nothing is wrong', swap(), []],
  ['the cylinder holds another gas', swap({ gas: 'oxygen' }), ['cylinder_wrong_gas']],
  [
    'it is empty and quarantined',
    swap({ isEmpty: true, isQuarantined: true }),
    ['cylinder_empty', 'cylinder_quarantined'],
  ],
  ['it stands at another site', swap({ siteId: 'elsewhere' }), ['cylinder_not_here']],
  [
    'it is on another outfit',
    swap({ outfit: { id: 'o8', label: 'Outfit 8' } }),
    ['cylinder_on_other_outfit'],
  ],
  ['it is the one that comes off', swap({ id: 'c1' }), ['cylinder_same']],
  ['nothing was tested for leaks', swap({}, { isLeakTested: false }), ['swap_step_open']],
  ['the permit is closed', swap({}, { facts: { state: 'closed' } }), ['wrong_state']],
])('a swap where %s', (_, input, expected) => {
  expect(codes(maySwap(input))).toEqual(expected)
})

test('work ends from open or held, never in the future, never before it began', () => {
  expect(mayEndWork(openPermit(), at(60), at(61))).toEqual({ ok: true })
  expect(codes(mayEndWork(openPermit(), at(62), at(61)))).toEqual(['time_future'])
  expect(codes(mayEndWork(openPermit(), at(-1), at(61)))).toEqual(['time_order'])
  expect(codes(mayEndWork(watchedPermit(70), at(60), at(61)))).toEqual(['wrong_state'])
  expect(mayHold(openPermit())).toEqual({ ok: true })
  expect(codes(mayHold(heldPermit()))).toEqual(['wrong_state'])
})

describe('stop work', () => {
  test('the first press holds, the second is final, a third is one too many', () => {
    expect(mayStop(openPermit())).toEqual({ ok: true, step: 'hold' })
    expect(mayStop(heldPermit({ stopPressedAt: at(60) }))).toEqual({ ok: true, step: 'final' })
    expect(mayStop(watchedPermit(70))).toEqual({ ok: true, step: 'hold' })
    expect(codes(mayStop(watchedPermit(70, { stopPressedAt: at(60), stoppedAt: at(61) })))).toEqual(
      ['permit_stopped'],
    )
  })

  test('only the operator or a foreman takes the first press back', () => {
    const pressed = heldPermit({ stopPressedAt: at(60) })
    expect(mayGoBack({ facts: pressed, person: OWEN, isForeman: false, day: DAY }).ok).toBe(true)
    expect(mayGoBack({ facts: pressed, person: BEA, isForeman: true, day: DAY }).ok).toBe(true)
    expect(codes(mayGoBack({ facts: pressed, person: BEA, isForeman: false, day: DAY }))).toEqual([
      'not_qualified',
    ])
    expect(
      codes(mayGoBack({ facts: heldPermit(), person: OWEN, isForeman: false, day: DAY })),
    ).toEqual(['stop_not_pressed'])
  })
})

describe('what time alone does', () => {
  const due = (facts: PermitFacts, minute: number) => fallsDue({ facts, now: at(minute) })

  test('nothing while the air is good and the look fresh', () => {
    expect(due(openPermit(), 30)).toEqual({ kind: 'nothing' })
  })

  test('a gas test that runs out holds the permit', () => {
    expect(due(openPermit(), 55)).toMatchObject({
      kind: 'hold',
      reasons: [{ code: 'gas_test_expired' }],
    })
  })

  test('a new shift holds it until somebody has looked', () => {
    const shiftStartsAt = [at(-600), at(25)]
    expect(due(openPermit({ shiftStartsAt }), 24)).toEqual({ kind: 'nothing' })
    expect(due(openPermit({ shiftStartsAt }), 25)).toMatchObject({
      kind: 'hold',
      reasons: [{ code: 'look_due_shift' }],
    })
    expect(due(openPermit({ shiftStartsAt, lastLookAt: at(26) }), 30)).toEqual({ kind: 'nothing' })
  })

  test('the end of validity ends open and held work', () => {
    expect(due(openPermit(), 240)).toEqual({ kind: 'expire', at: at(240) })
    expect(due(heldPermit(), 240)).toEqual({ kind: 'expire', at: at(240) })
    expect(due(watchedPermit(240), 240)).toEqual({ kind: 'nothing' })
  })

  test('the gas goes off at the supply after an hour of a hold under the fire code', () => {
    const held = heldPermit({ duties: { ...DUTIES, gasOffAfterIdleMin: 60 } })
    expect([gasOffDue(held, at(119)), gasOffDue(held, at(120))]).toEqual([false, true])
    expect(gasOffDue(heldPermit(), at(500))).toBe(false)
  })
})

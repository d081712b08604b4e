import { describe, expect, test } from 'vitest'
import { gearDueReasons, lookDueReasons, lookServesUntil, shiftAfter } from '@/lib/permit/shift'
import { mayLog, mayResume } from '@/lib/permit/work'
import { at, BEA, codes, DAY, DUTIES, dutiesUnder, OWEN, openPermit, RAY } from './build'

const HOUR = 60
/** Three shifts of eight hours around noon. */
const SHIFTS = [at(-5 * HOUR), at(3 * HOUR), at(11 * HOUR)]
type Limits = Parameters<typeof lookDueReasons>[0]
const EACH_SHIFT: Limits = { reinspectEachShift: true, reinspectEveryHours: null }
const EACH_DAY: Limits = { reinspectEachShift: false, reinspectEveryHours: 24 }

describe('until when a look serves', () => {
  test('until the next shift begins, where the rules ask for a look in each', () => {
    expect(lookServesUntil(EACH_SHIFT, at(0), SHIFTS)).toEqual(at(3 * HOUR))
  })
  // House rule: who starts a shift looks before it begins.
  test('a look in the last half hour before a shift is that shift’s', () => {
    expect(shiftAfter(at(3 * HOUR - 31), SHIFTS)).toEqual(at(3 * HOUR))
    expect(shiftAfter(at(3 * HOUR - 30), SHIFTS)).toEqual(at(11 * HOUR))
  })
  test('a day where the rules ask for one each day, and the earlier of both', () => {
    expect(lookServesUntil(EACH_DAY, at(0), SHIFTS)).toEqual(at(24 * HOUR))
    expect(lookServesUntil({ ...EACH_DAY, reinspectEachShift: true }, at(0), SHIFTS)).toEqual(
      at(3 * HOUR),
    )
  })
  test('without end where neither is asked, or nobody keeps shifts', () => {
    expect(lookServesUntil({ ...EACH_DAY, reinspectEveryHours: null }, at(0), SHIFTS)).toBeNull()
    expect(lookServesUntil(EACH_SHIFT, at(0), [])).toBeNull()
  })
})

test('it is due from the minute the shift begins, and a day counts as long as it is', () => {
  const due = (limits: Limits, minute: number) =>
    lookDueReasons(limits, at(0), { shiftStartsAt: SHIFTS, now: at(minute) }).map(
      ({ code }) => code,
    )
  expect(due(EACH_SHIFT, 3 * HOUR - 1)).toEqual([])
  expect(due(EACH_SHIFT, 3 * HOUR)).toEqual(['look_due_shift'])
  expect(due(EACH_DAY, 24 * HOUR)).toEqual([])
  expect(due(EACH_DAY, 24 * HOUR + 1)).toEqual(['look_due_hours'])
})

describe('work', () => {
  const duties = { ...DUTIES, ...EACH_SHIFT }
  const log = (from: number, to: number, looksAt: Date[]) =>
    mayLog({
      facts: openPermit({
        duties,
        looksAt,
        shiftStartsAt: SHIFTS,
        validUntil: at(8 * HOUR),
        openSpans: [{ from: at(0), to: null }],
        operatorStints: [{ personId: OWEN.id, onAt: at(0), offAt: null }],
      }),
      from: at(from),
      to: at(to),
      areaId: 'area',
      operator: OWEN,
      day: DAY,
      now: at(6 * HOUR),
    })

  test('that went on into the next shift without a look was not under the permit', () => {
    expect(log(150, 180, [at(-10)]).ok).toBe(true)
    expect(codes(log(150, 181, [at(-10)]))).toEqual(['look_due_shift'])
    expect(codes(log(190, 200, [at(-10)]))).toEqual(['look_due_shift'])
    expect(log(190, 200, [at(-10), at(185)]).ok).toBe(true)
  })

  test('is not gone on with on a look from the shift before', () => {
    const facts = openPermit({
      duties: { ...duties, gasTestNeeded: false },
      state: 'held',
      heldAt: at(2 * HOUR),
      torchOutAt: at(2 * HOUR),
      lastLookAt: at(2 * HOUR + 20),
      shiftStartsAt: SHIFTS,
      gasTests: [],
      validUntil: at(8 * HOUR),
    })
    const resume = (minute: number) =>
      mayResume({
        facts: { ...facts, duties: { ...duties, gasTestNeeded: false, breakLimitMin: 60 } },
        signature: { act: 'resume', personId: RAY.id, signedAt: at(minute) },
        operator: OWEN,
        pai: RAY,
        fireWatch: BEA,
        day: DAY,
        now: at(minute),
      })
    expect(resume(179).ok).toBe(true)
    expect(codes(resume(180))).toEqual(['look_due_shift'])
  })
})

describe('hoses and torch', () => {
  const due = (checkedAt: Date | null, minute: number, over: object = {}) =>
    gearDueReasons(
      { gearCheckEachShift: true },
      { gear: { label: '3', checkedAt }, shiftStartsAt: SHIFTS, ...over },
      at(minute),
    ).map(({ code }) => code)

  // 29 CFR 1926.350(f)(3) and (g): inspected at the beginning of each working shift.
  test('are looked at in each shift: what the last shift looked at does not do', () => {
    expect(due(at(-60), 0)).toEqual([])
    expect(due(at(-60), 3 * HOUR)).toEqual(['gear_check_due'])
    expect(due(at(3 * HOUR - 20), 3 * HOUR)).toEqual([])
    expect(due(null, 0)).toEqual(['gear_check_due'])
  })

  test('are not asked about by the clock where nobody keeps shifts, or no rule asks', () => {
    expect(due(null, 0, { shiftStartsAt: [] })).toEqual([])
    expect(due(null, 0, { gear: null })).toEqual([])
    expect(gearDueReasons({ gearCheckEachShift: false }, openPermit(), at(0))).toEqual([])
  })

  test('the duty is OSHA construction’s', () => {
    expect(dutiesUnder(['us-osha-1926']).gearCheckEachShift).toBe(true)
    expect(dutiesUnder(['us-osha-1910', 'us-nfpa51b-2019']).gearCheckEachShift).toBe(false)
  })
})

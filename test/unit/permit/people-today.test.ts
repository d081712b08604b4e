import { describe, expect, test } from 'vitest'
import { DUTIES, dutyThatDay, endStage, type PersonThatDay } from '@/lib/permit/people-today'

const WHOLE: PersonThatDay = {
  roles: ['operator', 'fire_watch', 'pai'],
  qualifiedFor: ['torch_operator', 'fire_watch', 'pai'],
  isShutOut: false,
  hasPin: true,
  hasBegun: true,
  isAssignedHere: true,
  isAssignedElsewhere: false,
  isBusyElsewhere: false,
}

describe('who may do what on a day', () => {
  test.each(DUTIES)('whoever has the role, the qualification and a PIN may %s', (duty) => {
    expect(dutyThatDay(WHOLE, duty, true)).toEqual({ may: true, reasons: [], note: null })
  })

  test.each([
    ['operate', 'operator'],
    ['watch', 'fire_watch'],
    ['authorize', 'pai'],
  ] as const)('nobody is listed to %s without the role', (duty, role) => {
    const roles = WHOLE.roles.filter((held) => held !== role)
    expect(dutyThatDay({ ...WHOLE, roles }, duty, true)).toBeNull()
  })

  test.each([
    [{ isShutOut: true }, ['shutOut']],
    [{ hasBegun: false, hasPin: false }, ['notBegun']],
    [{ hasPin: false }, ['noPin']],
    [{ qualifiedFor: ['fire_watch', 'pai'] }, ['notQualified']],
    [{ isBusyElsewhere: true }, ['busyElsewhere']],
    [{ isShutOut: true, hasPin: false, qualifiedFor: [] }, ['shutOut', 'noPin', 'notQualified']],
  ] as const)('%o stands against it, all of it at once', (facts, reasons) => {
    expect(dutyThatDay({ ...WHOLE, ...facts }, 'operate', true)).toMatchObject({
      may: false,
      reasons,
    })
  })

  test.each([
    [false, false, true, 'notAssigned'],
    [false, true, true, 'assignedElsewhere'],
    [false, true, false, 'assignedElsewhere'],
    [false, false, false, null],
    [true, true, true, null],
  ] as const)(
    'assigned here %s, elsewhere %s, anybody here %s: noted as %s, and may all the same',
    (isAssignedHere, isAssignedElsewhere, areAssigned, note) => {
      const person = { ...WHOLE, isAssignedHere, isAssignedElsewhere }
      expect(dutyThatDay(person, 'watch', areAssigned)).toEqual({ may: true, reasons: [], note })
    },
  )
})

describe('the end of a qualification', () => {
  // Asked for: seen 60, 30 and 7 days before.
  test.each([
    [61, null],
    [60, 60],
    [31, 60],
    [30, 30],
    [8, 30],
    [7, 7],
    [0, 7],
    [-1, null],
  ])('with %i days left is told as %s', (daysLeft, stage) => {
    expect(endStage(daysLeft)).toBe(stage)
  })
})

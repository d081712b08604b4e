import { describe, expect, test } from 'vitest'
import { scanVerdict } from '@/lib/rules/scan-verdict'
import { serialOfCode } from '@/lib/rules/scanned-code'

describe('what a camera reads', () => {
  // Application identifiers: GS1 General Specifications, from memory.
  test.each([
    ['ox-20417', 'OX-20417'],
    ['  OX 20417 ', 'OX 20417'],
    ['(8004)OX20417', 'OX20417'],
    ['(8003)00012345678905OX20417', 'OX20417'],
    ['(01)09506000134352(21)A77', 'A77'],
    [']C18004OX20417', 'OX20417'],
    [']d2010950600013435221A77\u001d10B1', null],
    [']C1800300012345678905OX1\u001d8004X', 'OX1'],
    ['https://elsewhere.example/?x=1', null],
    ['', null],
    ['X'.repeat(41), null],
  ])('%j tells %j', (read, serial) => {
    expect(serialOfCode(read)).toBe(serial)
  })
})

describe('a scanned cylinder', () => {
  const good = {
    status: 'full',
    isHere: true,
    gasId: 'oxygen',
    isPastDue: false,
    condition: 'sound',
  }
  test.each([
    ['nobody knows', null, ['unknown'], true],
    ['is full and here', good, [], false],
    ['is at another site', { ...good, isHere: false }, ['wrong_site'], true],
    ['holds another gas', { ...good, gasId: 'acetylene' }, ['wrong_gas'], true],
    ['is held back', { ...good, status: 'quarantined' }, ['quarantined'], true],
    ['is past its month', { ...good, isPastDue: true }, ['past_due'], true],
    [
      'was in a fire',
      { ...good, status: 'quarantined', condition: 'heat_damage' },
      ['unsound', 'quarantined'],
      true,
    ],
    ['is lost', { ...good, status: 'lost', isHere: false }, ['lost'], true],
    ['comes back', { ...good, status: 'returned', isHere: false }, ['away'], false],
    ['hangs on an outfit', { ...good, status: 'in_use' }, ['in_use'], false],
    ['is empty', { ...good, status: 'empty' }, ['empty'], false],
  ] as const)('that %s', (_which, scanned, codes, mustStop) => {
    expect(scanVerdict(scanned, 'oxygen')).toEqual({ codes, mustStop })
  })
})

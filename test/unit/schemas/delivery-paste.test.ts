import { expect, test } from 'vitest'
import { pastedRows } from '@/lib/schemas/delivery-paste'

const SIZES = [
  { id: 'oxygen-244', words: 'Oxygen 244 ft³' },
  { id: 'acetylene-130', words: 'Acetylene 130 ft³' },
]

test('a column of serials is a row each', () => {
  expect(pastedRows('ox-1\r\n\r\nox-2\n', SIZES)).toEqual([{ serial: 'OX-1' }, { serial: 'OX-2' }])
})

test('a supplier’s list with headings fills what it says clearly', () => {
  const text =
    'Lot;Cylinder No.;Gas;Size;Fill date;Hydro due\nB7;ox-1;Oxygen;244;13/4/2026;05/2031\n;ac-2;Acetylene;130 ft³;soon;\n'
  expect(pastedRows(text, SIZES)).toEqual([
    {
      serial: 'OX-1',
      sizeId: 'oxygen-244',
      filledOn: '2026-04-13',
      dueMonth: '2031-05',
      batch: 'B7',
    },
    { serial: 'AC-2', sizeId: 'acetylene-130' },
  ])
})

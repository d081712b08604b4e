import { describe, expect, test } from 'vitest'
import { invoiceRows, itemOf } from '@/lib/schemas/invoice'

const SIZES = [
  { id: 'oxygen-244', gasWords: 'Oxygen', name: '244 ft³' },
  { id: 'oxygen-122', gasWords: 'Oxygen', name: '122 ft³' },
  { id: 'acetylene-225', gasWords: 'Acetylene', name: '225 ft³' },
]
const known = { sizes: SIZES, serials: new Set(['OX-20417']) }

describe('an invoice as pasted', () => {
  test.each([
    ['headings in any order', 'Amount;Qty;Description\n$96.00;3;Oxygen 244 cf', 'Oxygen 244 cf', 3],
    [
      'gas and size apart',
      'Gas,Size,Quantity,Each,Total\nOxygen,244,3,32.00,96.00',
      'Oxygen 244',
      3,
    ],
    ['no headings', 'Oxygen 244\t3\t96.00', 'Oxygen 244', 3],
    ['no number of pieces', 'Delivery fee;96,00', 'Delivery fee', 1],
  ])('%s', (_how, text, what, quantity) => {
    expect(invoiceRows(text)).toEqual([{ row: 1, what, quantity, amountMinor: 9_600 }])
  })

  test('leaves sums out, and cannot be read where a row says no amount', () => {
    expect(invoiceRows('Oxygen 244;3;96.00\nSubtotal;;96.00\nTotal;;96.00')).toHaveLength(1)
    expect(invoiceRows('Oxygen 244;3;96.00\nAcetylene;1;soon')).toBeNull()
    expect(invoiceRows('Oxygen 244;some;96.00')).toBeNull()
  })

  test.each([
    ['ox-20417', { kind: 'serial', serial: 'OX-20417' }],
    ['AC-88', { kind: 'serial', serial: 'AC-88' }],
    ['Oxygen, 244 cu ft, industrial', { kind: 'fill', sizeId: 'oxygen-244' }],
    ['Deposit oxygen 244', { kind: 'deposit', sizeId: 'oxygen-244' }],
    ['Delivery fee', { kind: 'fee' }],
    ['Hazmat surcharge', { kind: 'other' }],
    ['Oxygen', { kind: 'other' }],
  ])('%s', (what, item) => expect(itemOf(what, known)).toEqual(item))
})

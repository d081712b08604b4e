import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkInvoice, type InvoiceInput, type InvoiceRow } from '@/lib/calc/invoice-check'

// Worked by hand from an invented agreement; there is no published example.
const came = (count: number, sizeId = 'oxygen-244', from = 1) =>
  Array.from({ length: count }, (_, i) => ({ serial: `${sizeId}/${from + i}`, sizeId }))
const FILL: Readonly<Record<string, number>> = { 'oxygen-244': 3_200, 'acetylene-225': 9_500 }
const check = (rows: readonly InvoiceRow[], over: Partial<InvoiceInput> = {}) =>
  checkInvoice({
    rows,
    received: [...came(3), ...came(1, 'acetylene-225')],
    notPaid: [],
    fillOf: (sizeId) => FILL[sizeId] ?? null,
    depositOf: () => 18_000,
    feeMinor: 3_500,
    toleranceMinor: 1,
    ...over,
  })
const fills = (row: number, sizeId: string, quantity: number, amountMinor: number): InvoiceRow => ({
  row,
  item: { kind: 'fill', sizeId },
  quantity,
  amountMinor,
})
const named = (row: number, serial: string, amountMinor: number): InvoiceRow => ({
  row,
  item: { kind: 'serial', serial },
  quantity: 1,
  amountMinor,
})
const faults = (result: ReturnType<typeof check>) =>
  result.rows.map((row) => [row.row, row.faults, row.disputeMinor])

describe('an invoice beside the delivery', () => {
  test('that is right disputes nothing', () => {
    const right = check([
      fills(1, 'oxygen-244', 3, 9_600),
      fills(2, 'acetylene-225', 1, 9_500),
      { row: 3, item: { kind: 'fee' }, quantity: 1, amountMinor: 3_500 },
      { row: 4, item: { kind: 'deposit', sizeId: 'oxygen-244' }, quantity: 3, amountMinor: 54_000 },
    ])
    expect(right).toMatchObject({ disputeMinor: 0, unasked: [] })
    expect(right.askedMinor).toBe(right.oursMinor)
  })

  test('with wrong rows says of each what is wrong', () => {
    const wrong = check([
      fills(1, 'oxygen-244', 4, 12_800), // three came
      fills(2, 'acetylene-225', 1, 9_900), // 95.00 agreed
      { row: 3, item: { kind: 'fee' }, quantity: 1, amountMinor: 4_500 },
      { row: 4, item: { kind: 'other' }, quantity: 1, amountMinor: 1_200 },
      fills(5, 'propane-100', 1, 4_000), // none came
    ])
    expect(faults(wrong)).toEqual([
      [1, ['quantity_differs'], 3_200],
      [2, ['price_differs'], 400],
      [3, ['fee_differs'], 1_000],
      [4, ['not_agreed'], 0],
      [5, ['quantity_differs'], 4_000],
    ])
    expect(wrong.disputeMinor).toBe(8_600)
  })

  test('by serials names what never came, went back or is asked for twice', () => {
    const wrong = check(
      [
        named(1, 'oxygen-244/1', 3_200),
        named(2, 'oxygen-244/1', 3_200),
        named(3, 'oxygen-244/2', 3_200),
        named(4, 'OX-99', 3_200),
        fills(5, 'oxygen-244', 1, 3_200),
      ],
      { notPaid: ['oxygen-244/2'] },
    )
    expect(faults(wrong)).toEqual([
      [1, [], 0],
      [2, ['twice'], 3_200],
      [3, ['sent_back'], 3_200],
      [4, ['not_delivered'], 3_200],
      [5, [], 0],
    ])
    expect(wrong.unasked).toEqual([{ sizeId: 'acetylene-225', count: 1 }])
  })

  test('disputes nothing where no price is known', () => {
    const unknown = check([fills(1, 'oxygen-244', 3, 9_600)], { fillOf: () => null })
    expect(unknown.rows[0]).toMatchObject({ faults: ['price_unknown'], oursMinor: null })
    expect(unknown.disputeMinor).toBe(0)
  })

  test('never disputes more than is asked, nor pays for more than came', () => {
    const row = fc.oneof(
      fc.record({
        item: fc.record({
          kind: fc.constant('fill' as const),
          sizeId: fc.constantFrom('oxygen-244', 'acetylene-225'),
        }),
        quantity: fc.integer({ min: 0, max: 5 }),
        amountMinor: fc.integer({ min: 0, max: 50_000 }),
      }),
      fc.record({
        item: fc.record({
          kind: fc.constant('serial' as const),
          serial: fc.constantFrom('oxygen-244/1', 'oxygen-244/2', 'X'),
        }),
        quantity: fc.constant(1),
        amountMinor: fc.integer({ min: 0, max: 50_000 }),
      }),
    )
    fc.assert(
      fc.property(fc.array(row, { maxLength: 8 }), (rows) => {
        const result = check(rows.map((one, i) => ({ ...one, row: i + 1 })))
        expect(result.disputeMinor).toBeLessThanOrEqual(result.askedMinor)
        expect(result.oursMinor).toBeLessThanOrEqual(3 * 3_200 + 9_500)
        const left = result.unasked.reduce((sum, one) => sum + one.count, 0)
        const paid = result.rows.reduce((sum, one) => sum + one.oursQuantity, 0)
        expect(left + paid).toBe(4)
      }),
    )
  })
})

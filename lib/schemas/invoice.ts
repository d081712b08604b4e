import { z } from 'zod'
import type { InvoiceItem } from '../calc/invoice-check'
import { csvRows } from './csv-text'
import { idField } from './fields'
import { amountOf, columnOf } from './rent'

const MOST_ROWS = 500
const MOST_TEXT = 100_000

/** A row as typed: what it says is asked for, how many, and the money in minor units. */
export type TypedInvoiceRow = Readonly<{
  row: number
  what: string
  quantity: number
  amountMinor: number
}>

const WHAT = /^(item|description|product|material|serial|cylinder|gas|size)/i
const QUANTITY = /^(qty|quantity|count|units?|number)$/i
const AMOUNT = /^(amount|total|charge|ext)/i
/** Sums under the rows ask for nothing of their own. */
const SUM = /^(sub[\s-]?)?total\b/i

/** Where the columns are: by their headings, else what, how many, (each,) amount in that order. */
function placesOf(head: readonly string[]) {
  const amount = columnOf(head, AMOUNT)
  const what = head.flatMap((cell, at) => (WHAT.test(cell.trim()) ? [at] : []))
  const hasHead = amount >= 0 && what.length > 0
  if (hasHead) return { hasHead, what, quantity: columnOf(head, QUANTITY), amount }
  return { hasHead, what: [0], quantity: head.length > 2 ? 1 : -1, amount: head.length - 1 }
}

/** An invoice as pasted; null where a row has no amount or no number of pieces. */
export function invoiceRows(text: string): TypedInvoiceRow[] | null {
  const cells = csvRows(text).filter((row) => row.some((cell) => cell.trim()))
  const { hasHead, ...at } = placesOf(cells[0] ?? [])
  const rows: TypedInvoiceRow[] = []
  for (const [i, row] of cells.slice(hasHead ? 1 : 0).entries()) {
    const what = at.what
      .map((column) => (row[column] ?? '').trim())
      .join(' ')
      .trim()
    if (SUM.test(what)) continue
    const typed = at.quantity < 0 ? '1' : (row[at.quantity] ?? '').trim() || '1'
    const amountMinor = amountOf(row[at.amount] ?? '')
    if (what === '' || amountMinor === null || !/^\d{1,5}$/.test(typed)) return null
    rows.push({ row: i + 1, what, quantity: Number(typed), amountMinor })
  }
  return rows
}

export const invoiceSchema = z
  .object({
    deliveryId: idField,
    invoice: z.string().trim().min(1, 'SAY_IT').max(MOST_TEXT, 'TOO_LONG'),
  })
  .transform((typed, context) => {
    const rows = invoiceRows(typed.invoice)
    if (rows && rows.length > 0 && rows.length <= MOST_ROWS)
      return { deliveryId: typed.deliveryId, rows }
    context.addIssue({ code: 'custom', path: ['invoice'], message: 'INVOICE_ROW' })
    return z.NEVER
  })
export type InvoiceInput = z.output<typeof invoiceSchema>

export type NamedSize = Readonly<{ id: string; gasWords: string; name: string }>

const wordsOf = (text: string) => text.toLowerCase().match(/[a-z]+|\d+(?:[.,]\d+)?/g) ?? []

/** The one size whose gas and number stand in the words; null where none does, or more than one. */
function sizeIn(text: string, sizes: readonly NamedSize[]): string | null {
  const said = new Set(wordsOf(text))
  const isSaid = ({ gasWords, name }: NamedSize) => {
    const number = wordsOf(name).find((word) => /\d/.test(word)) ?? ''
    return wordsOf(gasWords).every((word) => said.has(word)) && said.has(number)
  }
  const [one, ...more] = sizes.filter(isSaid)
  return one && more.length === 0 ? one.id : null
}

/** What a row's words ask for. A serial of the delivery is one whatever else the words look like. */
export function itemOf(
  what: string,
  known: Readonly<{ sizes: readonly NamedSize[]; serials: ReadonlySet<string> }>,
): InvoiceItem {
  const serial = what.toUpperCase()
  if (known.serials.has(serial)) return { kind: 'serial', serial }
  const sizeId = sizeIn(what, known.sizes)
  if (sizeId && /\bdeposit/i.test(what)) return { kind: 'deposit', sizeId }
  if (sizeId) return { kind: 'fill', sizeId }
  if (/\b(delivery|freight|drop)\b/i.test(what)) return { kind: 'fee' }
  return /^[A-Z0-9][A-Z0-9./-]*\d[A-Z0-9./-]*$/.test(serial)
    ? { kind: 'serial', serial }
    : { kind: 'other' }
}

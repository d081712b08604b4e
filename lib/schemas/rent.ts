import { z } from 'zod'
import { csvRows } from './csv-text'
import { clientKey, idField, requiredText } from './fields'
import { day, emptyIsAbsent, month, typedNumber, wholeNumber } from './measure'

const MINOR = 100
const notNegative = wholeNumber.refine((value) => value >= 0, 'NEGATIVE')
/** Money as typed, in the company's currency; kept in minor units. */
export const money = typedNumber
  .refine((value) => value >= 0, 'NEGATIVE')
  .transform((value) => Math.round(value * MINOR))

export const rentTermsSchema = z.object({
  key: clientKey,
  siteId: idField,
  supplierId: idField,
  sizeId: requiredText(40),
  freeDays: notNegative,
  rentPerDay: money,
  demurrageFromDay: emptyIsAbsent(wholeNumber.refine((value) => value > 0, 'NOT_POSITIVE')),
  demurragePerDay: emptyIsAbsent(money),
  deposit: emptyIsAbsent(money),
  validFrom: day,
})
export type RentTermsInput = z.output<typeof rentTermsSchema>

const MOST_ROWS = 2_000
const MOST_TEXT = 400_000

export type TypedStatementRow = Readonly<{
  row: number
  serial: string
  days: number | null
  amountMinor: number
}>

/** A money cell: "1,234.50", "$ 6.25", "6,25". */
export function amountOf(cell: string): number | null {
  const plain = cell.replaceAll(/[^\d.,-]/g, '')
  const decimal = /[.,]\d{1,2}$/.exec(plain)
  const whole = (decimal ? plain.slice(0, decimal.index) : plain).replaceAll(/[.,]/g, '')
  if (!/^-?\d+$/.test(whole)) return null
  const cents = decimal ? Number(decimal[0].slice(1).padEnd(2, '0')) : 0
  return Number(whole) * MINOR + (whole.startsWith('-') ? -cents : cents)
}

export const columnOf = (head: readonly string[], pattern: RegExp) =>
  head.findIndex((cell) => pattern.test(cell.trim()))

/** A supplier's statement as pasted: serial, days and amount by their headings, or in that order. */
export function statementRows(
  text: string,
): { rows: TypedStatementRow[] } | { wrongRow: number; value: string } {
  const cells = csvRows(text).filter((row) => row.some((cell) => cell.trim()))
  const head = cells[0] ?? []
  const named = columnOf(head, /^(serial|cylinder|cyl|bottle)/i)
  const hasHead = named >= 0
  const at = {
    serial: hasHead ? named : 0,
    days: hasHead ? columnOf(head, /^(rental )?days?$/i) : head.length > 2 ? 1 : -1,
    amount: hasHead ? columnOf(head, /^(amount|charge|total|rent)/i) : head.length > 2 ? 2 : 1,
  }
  const rows: TypedStatementRow[] = []
  for (const [i, row] of (hasHead ? cells.slice(1) : cells).entries()) {
    const serial = (row[at.serial] ?? '').trim().toUpperCase()
    const days = at.days < 0 ? '' : (row[at.days] ?? '').trim()
    const amountMinor = amountOf(row[at.amount] ?? '')
    if (serial === '' || amountMinor === null || (days !== '' && !/^\d{1,4}$/.test(days)))
      return { wrongRow: i + 1, value: row.join(' ').slice(0, 60) }
    rows.push({ row: i + 1, serial, days: days === '' ? null : Number(days), amountMinor })
  }
  return { rows }
}

export const statementSchema = z
  .object({
    siteId: idField,
    supplierId: idField,
    month,
    statement: z.string().trim().min(1, 'SAY_IT').max(MOST_TEXT, 'TOO_LONG'),
  })
  .transform((typed, context) => {
    const read = statementRows(typed.statement)
    if ('rows' in read && read.rows.length > 0 && read.rows.length <= MOST_ROWS)
      return { ...typed, rows: read.rows }
    context.addIssue({ code: 'custom', path: ['statement'], message: 'STATEMENT_ROW' })
    return z.NEVER
  })
export type StatementInput = z.output<typeof statementSchema>

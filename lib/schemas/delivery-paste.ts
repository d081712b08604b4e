import { csvRows } from './csv-text'
import { type FleetColumn, headingsOf } from './fleet-columns'
import { dayOf, dayOrderOf, monthOf, readDate } from './typed-date'

export type PastedRow = Readonly<{
  serial: string
  sizeId?: string
  filledOn?: string
  dueMonth?: string
  batch?: string
}>

const plain = (text: string) => text.toLowerCase().replaceAll(/[^a-z0-9]/g, '')

/**
 * Rows from a pasted list or a CSV file: with headings by their names, without them a serial a line.
 * What a cell does not say clearly is left out, for the person who looks at the rows.
 */
export function pastedRows(
  text: string,
  sizes: readonly Readonly<{ id: string; words: string }>[],
): PastedRow[] {
  const rows = csvRows(text.replace(/^\uFEFF/, '')).filter((row) => row.some((cell) => cell.trim()))
  const headings = headingsOf(rows[0] ?? [])
  const hasHead = headings.some((one) => one.column === 'serial')
  const batchAt = (rows[0] ?? []).findIndex((cell) => /^(?:batch|lot)/i.test(cell.trim()))
  const body = hasHead ? rows.slice(1) : rows
  const at = (column: FleetColumn) => headings.find((one) => one.column === column)?.index ?? -1
  const date = (row: readonly string[], column: FleetColumn) => {
    const index = hasHead ? at(column) : -1
    if (index < 0) return null
    const order = dayOrderOf(body.map((one) => one[index] ?? '')) ?? 'month_first'
    return readDate(row[index] ?? '', order)
  }
  return body.flatMap((row) => {
    const serial = (row[hasHead ? at('serial') : 0] ?? '').trim().toUpperCase()
    if (serial === '') return []
    const size = hasHead ? plain(`${row[at('gas')] ?? ''}${row[at('size')] ?? ''}`) : ''
    const sizeId = sizes.find((one) => size !== '' && plain(one.words).startsWith(size))?.id
    const [filled, due] = [date(row, 'filled'), date(row, 'due')]
    const batch = hasHead && batchAt >= 0 ? (row[batchAt] ?? '').trim() : ''
    return [
      {
        serial,
        ...(sizeId ? { sizeId } : {}),
        ...(filled ? { filledOn: dayOf(filled) } : {}),
        ...(due ? { dueMonth: monthOf(due) } : {}),
        ...(batch ? { batch } : {}),
      },
    ]
  })
}

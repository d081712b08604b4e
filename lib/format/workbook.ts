import writeXlsxFile, { type Row } from 'write-excel-file/node'

/** A sheet by its name: a head, rows of words and numbers. */
export type Sheet = Readonly<{
  name: string
  head: readonly string[]
  rows: readonly (readonly (string | number | null)[])[]
}>

const DECIMALS = '0.000'
const LEAST_WIDTH = 8
const MOST_WIDTH = 60

/** Words stay words: what begins with a sign that a spreadsheet would reckon with is still text. */
const cellOf = (value: string | number | null): Row[number] => {
  if (value === null) return null
  return typeof value === 'number'
    ? { value, type: Number, format: DECIMALS }
    : { value, type: String }
}

function widthsOf({ head, rows }: Sheet) {
  return head.map((title, column) => {
    const lengths = [title, ...rows.map((row) => String(row[column] ?? ''))].map(
      (text) => text.length,
    )
    return { width: Math.min(MOST_WIDTH, Math.max(LEAST_WIDTH, ...lengths) + 1) }
  })
}

/** Sheets as one workbook of Office Open XML. */
export function workbookOf(sheets: readonly Sheet[]): Promise<Buffer> {
  return writeXlsxFile(
    sheets.map((sheet) => ({
      sheet: sheet.name,
      columns: widthsOf(sheet),
      stickyRowsCount: 1,
      data: [
        sheet.head.map((value) => ({ value, type: String, fontWeight: 'bold' as const })),
        ...sheet.rows.map((row) => row.map(cellOf)),
      ],
    })),
  ).toBuffer()
}

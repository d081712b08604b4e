/**
 * Series of demand from a CSV: a head, then a row a series, its name first. Rows with a blank are left out.
 *
 * @returns the complete series, and how many rows there were
 */
export function readDemandFile(text: string): { series: number[][]; rows: number } {
  const [, ...lines] = text.trim().split(/\r?\n/)
  const rows = lines.map((line) =>
    line
      .split(',')
      .slice(1)
      .map((cell) => (cell.trim() === '' ? Number.NaN : Number(cell))),
  )
  const series = rows.filter((row) => row.every((value) => Number.isFinite(value) && value >= 0))
  return { series, rows: rows.length }
}

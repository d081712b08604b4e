import { readFileSync } from 'node:fs'
import { type Backtest, type BacktestRow, backtest } from '../lib/calc/backtest'
import { readDemandFile } from './demand-file'

const cell = (value: number | null, digits: number) =>
  (value === null ? '-' : value.toFixed(digits)).padStart(9)

const line = (name: string, row: BacktestRow) =>
  `${name.padEnd(13)}${String(row.windows).padStart(8)}${row.pinball.map((loss) => cell(loss, 4)).join('')}` +
  `${cell(row.bias, 3)}${row.coverage.map(({ share }) => cell(share, 4)).join('')}`

function table({ rows, byClass }: Backtest): string {
  const head = `${''.padEnd(13)} windows  loss .90  loss .95     bias  held .90  held .95`
  return [
    head,
    ...rows.map((row) => line(row.method, row)),
    'chosen, by class',
    ...byClass.map((row) => line(row.demandClass, row)),
  ].join('\n')
}

/** Back-tests each file and prints how every method did; returns the exit code. */
export function runBacktest(files: readonly string[], out: (text: string) => void): number {
  for (const file of files) {
    const { series, rows } = readDemandFile(readFileSync(file, 'utf8'))
    out(`${file}: ${series.length} complete series of ${rows}\n${table(backtest(series))}\n\n`)
  }
  return 0
}

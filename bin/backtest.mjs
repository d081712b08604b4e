#!/usr/bin/env node
// npm run backtest -- FILE.csv …: the forecast of sparse demand against its challengers, origin by origin.
const loader = await import('tsx/esm/api').catch(() => null)
if (!loader) {
  process.stderr.write('The packages are not installed yet. Run npm ci (or npm start) first.\n')
  process.exit(1)
}
loader.register()
const files = process.argv.slice(2)
if (files.length === 0 || files.includes('--help')) {
  process.stderr.write(
    'Usage: npm run backtest -- FILE.csv …\n  a head, then a row a series: its name, and demand period by period\n',
  )
  process.exit(2)
}
const { runBacktest } = await import('./backtest-main.ts')
process.exitCode = runBacktest(files, (text) => process.stdout.write(text))

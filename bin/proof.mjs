#!/usr/bin/env node
// npm run proof: the long proofs in test/proof; -- NAME runs one. Each file exports `name` and
// `run(context)`, which returns { cases, failures: string[] }. --from NUMBER, --lives NUMBER and
// --processes NUMBER reach the proofs that know them.
import { parseArgs } from 'node:util'
import { checkNode, installPackages } from './lib/packages.mjs'
import { endAll, endOnSignals, seconds } from './lib/steps.mjs'

const SHOWN_FAILURES = 10

endOnSignals()
checkNode()
await installPackages()
const { chooseRuns, openRunServer, runFile } = await import('./lib/runners.mjs')
const number = { type: 'string' }
const { values: options, positionals } = parseArgs({
  allowPositionals: true,
  options: { from: number, lives: number, processes: number },
})
const files = chooseRuns('proof', positionals)
const server = await openRunServer()

let [passed, failed] = [0, 0]
for (const file of files) {
  const from = performance.now()
  try {
    const { name, result } = await runFile({ folder: 'proof', file, server, options })
    const isProved = result.cases > 0 && result.failures.length === 0
    console.log(
      `  ${isProved ? 'proved' : 'FAILED'}  ${name}: ${result.cases} cases, ${seconds(performance.now() - from)}`,
    )
    for (const failure of result.failures.slice(0, SHOWN_FAILURES)) console.log(`    ${failure}`)
    if (isProved) passed += 1
    else failed += 1
  } catch (error) {
    failed += 1
    console.log(`  FAILED  ${file}: ${error.message}`)
  }
}
await endAll()
console.log(`\n${passed} passed, ${failed} failed`)
process.exit(failed > 0 || passed === 0 ? 1 : 0)

#!/usr/bin/env node
// npm run bench: every benchmark in test/bench; -- NAME runs one, -- --json prints one object.
// Each file exports `name` and `run(context)`, which returns name → { value, unit, aim, holds }.
import { checkNode, installPackages } from './lib/packages.mjs'
import { endAll, endOnSignals, seconds } from './lib/steps.mjs'

const args = process.argv.slice(2)
const isJson = args.includes('--json')
const say = (text) => (isJson ? process.stderr : process.stdout).write(`${text}\n`)

endOnSignals()
checkNode()
await installPackages()
const { chooseRuns, openRunServer, runFile } = await import('./lib/runners.mjs')
const files = chooseRuns('bench', args)
const server = await openRunServer()
const { buildIfChanged } = await import('./lib/build.mjs')
if (await buildIfChanged()) say('built')

const records = {}
let broken = 0
for (const file of files) {
  const from = performance.now()
  try {
    const { name, result } = await runFile({ folder: 'bench', file, server })
    Object.assign(records, result)
    say(`\n${name}  (${seconds(performance.now() - from)})`)
    for (const [key, { value, unit, aim, holds }] of Object.entries(result)) {
      say(`  ${holds ? 'holds' : 'MISSES'}  ${key}: ${value} ${unit}  (aim ${aim})`)
    }
  } catch (error) {
    broken += 1
    say(`\n${file}: ${error.message}`)
  }
}
await endAll()
if (isJson) console.log(JSON.stringify(records, null, 2))
process.exit(broken > 0 || files.length === 0 ? 1 : 0)

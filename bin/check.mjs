#!/usr/bin/env node
// npm run check: what to run while working. Types, lint, import arrows, dead code, unit tests.
import { checkNode, installPackages } from './lib/packages.mjs'
import { endOnSignals, secondsSinceStart, step } from './lib/steps.mjs'

endOnSignals()
await step(
  'Packages',
  'Check the network and the disk, then run the command again.',
  async (note) => {
    checkNode()
    note((await installPackages()) ? 'installed' : 'up to date')
  },
)
const { generateClient } = await import('./lib/generate.mjs')
await step('Database client', 'Check prisma/schema.prisma against the lines above.', generateClient)

const checks = await import('./lib/checks.mjs')
const results = [
  await checks.lint(),
  await checks.types(),
  await checks.deadCode(),
  await checks.unitTests(),
]
console.log(`\nafter ${secondsSinceStart()}`)
process.exit(checks.close(results))

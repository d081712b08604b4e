#!/usr/bin/env node
// npm run verify: is the record what it was? Exit 0: yes. 1: no. 2: could not tell.
import { parseArgs } from 'node:util'

const HELP = `Usage: npm run verify -- [--site NAME] [--expect NUMBER:HASH] [--chains-only] [--json]
  --site NAME           one chain: a site's name or id, or "company"
  --expect NUMBER:HASH  an entry that was printed or written down earlier; finds a tail that was cut off
  --chains-only         leave out the comparison of facts and cylinders with the chains and events
  --json                one JSON object instead of lines`

function readArguments() {
  const { values } = parseArgs({
    options: {
      site: { type: 'string' },
      expect: { type: 'string' },
      'chains-only': { type: 'boolean', default: false },
      json: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  })
  return values
}

async function main() {
  const { site, expect, 'chains-only': chainsOnly, json, help } = readArguments()
  if (help) {
    console.log(HELP)
    return 0
  }
  const { describeResult, verifyRecords } = await import('./lib/verify.mjs')
  const { consoleDatabase } = await import('./lib/console-database.mjs')
  const { url, stop } = await consoleDatabase()
  try {
    const result = await verifyRecords(url, {
      site: site ?? null,
      expect: expect ?? null,
      chainsOnly,
    })
    console.log(json ? JSON.stringify(result, null, 2) : describeResult(result).join('\n'))
    return result.ok ? 0 : 1
  } finally {
    await stop()
  }
}

process.exitCode = await main().catch((error) => {
  console.error(`${error.message}\n\n${HELP}`)
  return 2
})

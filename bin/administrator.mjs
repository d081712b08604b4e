#!/usr/bin/env node
// npm run administrator: the first administrator of a company, or a new first password for one who is locked out.
import { parseArgs } from 'node:util'

const HELP = `Usage: npm run administrator -- --name "NAME" --email ADDRESS [--site "FIRST SITE"]
  --name NAME      as it stands on permits
  --email ADDRESS  they sign in with it; somebody who has it already gets a new first password
  --site NAME      the first site, where there is none yet; "First yard" without it`

const { values } = parseArgs({
  options: {
    name: { type: 'string' },
    email: { type: 'string' },
    site: { type: 'string', default: 'First yard' },
    help: { type: 'boolean', default: false },
  },
})
const isComplete = Boolean(values.name?.trim()) && /^\S+@\S+\.\S+$/.test(values.email ?? '')
if (values.help || !isComplete) {
  console.log(HELP)
  process.exit(values.help ? 0 : 2)
}

const { consoleDatabase } = await import('./lib/console-database.mjs')
const { makeAdministrator } = await import('./lib/administrator.mjs')
const { url, stop } = await consoleDatabase()
try {
  const { name, email, site } = values
  const made = await makeAdministrator(url, { name: name.trim(), email, siteName: site })
  console.log(`${made.isNew ? 'Made' : 'Known already'}: ${name.trim()}, ${email}`)
  if (made.given.length > 0) console.log(`Administrator now at: ${made.given.join(', ')}`)
  console.log(`Password of the first sign-in, for ${made.days} days: ${made.oncePassword}`)
} finally {
  await stop()
}

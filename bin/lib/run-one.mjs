// One benchmark or proof, in a process and an empty, migrated database of its own.
import { writeFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import { endAll } from './steps.mjs'
import { copyTemplate } from './test-cluster.mjs'
import { startTestWeb } from './web.mjs'

const SECRET = 'runs: Kd7uXq3ZpLw9Tn5RbYc1GvJh8MsEa2Fo'
const [file, answer] = process.argv.slice(2)
process.on('disconnect', () => process.exit(1)) // the command that started us was killed

/** What a benchmark or proof may use. */
const context = {
  /** The owner's address of this run's own database, migrated and empty. */
  ownerUrl: process.env.DATABASE_URL,
  /** The same database as the role that ships; `@/lib/data/client` is connected to it. */
  runtimeUrl: process.env.KERFWATCH_DATABASE_URL,
  /** The test server and the migrated, empty database in it, for what makes its own copies. */
  serverUrl: process.env.KERFWATCH_TEST_SERVER,
  template: process.env.KERFWATCH_TEST_TEMPLATE,
  /** Another migrated, empty database; the owner's address. */
  newDatabase: () =>
    copyTemplate(process.env.KERFWATCH_TEST_SERVER, process.env.KERFWATCH_TEST_TEMPLATE),
  /** A web process over the production build: { url, stop }. Sessions are signed with `secret`. */
  startWeb: (ownerUrl) => startTestWeb({ ownerUrl, secret: SECRET }),
  secret: SECRET,
  /** What stood behind the names on the command line: --from 400 is { from: '400' }. */
  options: JSON.parse(process.env.KERFWATCH_RUN_OPTIONS ?? '{}'),
  say: (text) => process.stderr.write(`    ${text}\n`),
}

const { name, run } = await import(pathToFileURL(file).href)
const result = await run(context)
writeFileSync(answer, JSON.stringify({ name, result }))
await endAll()
process.exit(0)

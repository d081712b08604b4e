// The server that the tests use, a migrated template in it, and copies of that.
import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { dropDatabase, templateDatabase, withClient } from './database.mjs'
import { listMigrations, migrate } from './migrate.mjs'
import { inRoot } from './paths.mjs'
import { startPostgres } from './postgres.mjs'
import { runTypeScript } from './run.mjs'
import { databaseName, databaseUrl, runtimeUrl } from './urls.mjs'

const TEMPLATE_LOCK = 7_318_002
// A machine in UTC hides every forgotten time zone, so the tests' cluster never is one.
const ZONE = 'America/New_York'
// Nothing in a test database outlives the run: speed instead of safety from power cuts.
const SETTINGS = {
  timezone: ZONE,
  fsync: 'off',
  synchronous_commit: 'off',
  full_page_writes: 'off',
  max_connections: 400,
}

/** Starts or joins the test server; `DATABASE_URL` names another server to use. */
export async function startTestServer() {
  const external = process.env.DATABASE_URL
  if (external) {
    return { ownerUrl: external, stop: () => cleanUp(external) }
  }
  const server = await startPostgres({
    dataDir: inRoot('.kerfwatch', 'test-postgres'),
    settings: SETTINGS,
  })
  await cleanUp(server.ownerUrl)
  return { ownerUrl: server.ownerUrl, stop: server.stop }
}

function migrationsHash() {
  const hash = createHash('sha256')
  for (const name of listMigrations())
    hash.update(name).update(readFileSync(inRoot('prisma', 'migrations', name, 'migration.sql')))
  return hash.digest('hex').slice(0, 12)
}

/** A migrated, empty database to copy from; made once for each state of the migrations. */
export async function testTemplate(ownerUrl) {
  const name = `kerfwatch_template_${migrationsHash()}`
  await withClient(ownerUrl, async (client) => {
    await client.query('SELECT pg_advisory_lock($1)', [TEMPLATE_LOCK])
    const { rowCount } = await client.query('SELECT 1 FROM pg_database WHERE datname = $1', [name])
    if (rowCount) return
    const unfinished = `${name}_unfinished`
    await dropDatabase(ownerUrl, unfinished)
    await client.query(`CREATE DATABASE ${unfinished}`)
    await migrate(databaseUrl(ownerUrl, unfinished))
    await client.query(`ALTER DATABASE ${unfinished} RENAME TO ${name}`)
  })
  return name
}

let count = 0

/** A fresh database for one test file, named after this process so that a later run can clear it. */
export async function copyTemplate(ownerUrl, template) {
  count += 1
  return templateDatabase(ownerUrl, template, `kerfwatch_test_${process.pid}_${count}`)
}

/** A database filled with the demo company, for the browser tests to copy. */
export async function makeDemoTemplate(ownerUrl, template) {
  const filled = await copyTemplate(ownerUrl, template)
  await runTypeScript('seed/run.ts', [], {
    env: { ...process.env, DATABASE_URL: filled, KERFWATCH_DATABASE_URL: runtimeUrl(filled) },
  })
  return databaseName(filled)
}

const isAlive = (pid) => {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error.code === 'EPERM'
  }
}

/** Removes test databases whose process is gone. */
async function cleanUp(ownerUrl) {
  const left = await withClient(ownerUrl, async (client) => {
    const { rows } = await client.query(
      `SELECT datname FROM pg_database WHERE datname ~ '^kerfwatch_test_[0-9]+_'`,
    )
    return rows.map((row) => row.datname)
  })
  for (const name of left) {
    const pid = Number(name.split('_')[2])
    if (!isAlive(pid)) await dropDatabase(ownerUrl, name)
  }
}

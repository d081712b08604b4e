// Migrations through Prisma's schema engine as WebAssembly: nothing is fetched, nothing native runs.
import { readdirSync, readFileSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { PrismaPg } from '@prisma/adapter-pg'
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils'
import pg from 'pg'
import { ensureRuntimeRole, withClient } from './database.mjs'
import { inRoot } from './paths.mjs'
import { RUNTIME_ROLE, SESSION_OPTIONS } from './urls.mjs'

const MIGRATIONS = inRoot('prisma', 'migrations')
const MIGRATION_LOCK = 7_318_001 // any number, the same for every process
const NO_FILTERS = { externalTables: [], externalEnums: [] }

// adapter-pg cuts a script at each semicolon, which breaks the body of a trigger function and
// leaves a migration half applied. Sent whole it is one implicit transaction.
class WholeScriptPg extends PrismaPg {
  async connect() {
    const adapter = await super.connect()
    adapter.executeScript = async (script) => {
      await adapter.underlyingDriver().query(script)
    }
    return adapter
  }
}

// The engine reports a panic through this global before it throws.
globalThis.PRISMA_WASM_PANIC_REGISTRY = {
  set_message(message) {
    throw new Error(`The schema engine gave up: ${message}`)
  },
}

// The bindings hold one instance for the whole process, so it is made once.
let engineClass
const loadEngine = () => {
  engineClass ??= instantiateEngine()
  return engineClass
}

async function instantiateEngine() {
  const bindings = await import('@prisma/schema-engine-wasm/schema_engine_bg')
  const file = inRoot('node_modules', '@prisma', 'schema-engine-wasm', 'schema_engine_bg.wasm')
  const { instance } = await WebAssembly.instantiate(await readFile(file), {
    './schema_engine_bg.js': bindings,
  })
  bindings.__wbg_set_wasm(instance.exports)
  instance.exports.__wbindgen_start()
  return bindings.SchemaEngine
}

const readText = (...parts) => readFileSync(inRoot('prisma', ...parts), 'utf8')

/** The migrations in the project, oldest first. */
export function listMigrations() {
  return readdirSync(MIGRATIONS, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()
}

function migrationsList() {
  return {
    baseDir: MIGRATIONS,
    lockfile: { path: './migration_lock.toml', content: 'provider = "postgresql"\n' },
    shadowDbInitScript: '',
    migrationDirectories: listMigrations().map((name) => ({
      path: name,
      migrationFile: {
        path: 'migration.sql',
        content: { tag: 'ok', value: readText('migrations', name, 'migration.sql') },
      },
    })),
  }
}

async function withEngine(ownerUrl, work) {
  const SchemaEngine = await loadEngine()
  // A pool of ours, so that it can be ended: the engine's own session would keep its advisory
  // lock, and the next migration would wait for it in vain.
  const pool = new pg.Pool({ connectionString: ownerUrl, options: SESSION_OPTIONS, max: 2 })
  pool.on('error', () => {})
  try {
    const engine = await SchemaEngine.new(
      { datamodels: [['schema.prisma', readText('schema.prisma')]] },
      () => {},
      bindMigrationAwareSqlAdapterFactory(new WholeScriptPg(pool)),
    )
    return await work(engine)
  } finally {
    await pool.end()
  }
}

/**
 * Makes the runtime role, then applies what is missing and records it, as `prisma migrate deploy`
 * does. Safe for several processes at once.
 *
 * @returns {Promise<string[]>} the names of the migrations just applied
 */
export async function migrate(ownerUrl) {
  await ensureRuntimeRole(ownerUrl)
  return withClient(ownerUrl, async (client) => {
    await client.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK])
    const { appliedMigrationNames } = await withEngine(ownerUrl, (engine) =>
      engine.applyMigrations({ migrationsList: migrationsList(), filters: NO_FILTERS }),
    )
    // So that a web process can tell whether the database is as new as itself.
    await client.query(`GRANT SELECT ON _prisma_migrations TO ${RUNTIME_ROLE}`)
    return appliedMigrationNames
  })
}

/** The SQL that turns one schema file's tables into another's; triggers are written by hand. */
export async function diffSchemas(ownerUrl, fromSchema, toSchema) {
  const target = (content) =>
    content === null
      ? { tag: 'empty' }
      : { tag: 'schemaDatamodel', files: [{ path: 'schema.prisma', content }] }
  const { stdout } = await withEngine(ownerUrl, (engine) =>
    engine.diff({
      from: target(fromSchema),
      to: target(toSchema),
      script: true,
      exitCode: null,
      shadowDatabaseUrl: null,
      filters: NO_FILTERS,
    }),
  )
  return stdout
}

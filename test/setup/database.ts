import pg from 'pg'
import { inject } from 'vitest'
import { dropDatabase } from '../../bin/lib/database.mjs'
import { copyTemplate } from '../../bin/lib/test-cluster.mjs'
import { databaseName, runtimeUrl, SESSION_OPTIONS } from '../../bin/lib/urls.mjs'

export interface TestDatabase {
  owner: pg.Pool
  runtime: pg.Pool
  ownerUrl: string
  runtimeUrl: string
  /** Moves `kerf_now()` of this database by so many milliseconds from the real clock. */
  setClock: (offsetMs: number) => Promise<void>
  drop: () => Promise<void>
}

function openPool(connectionString: string): pg.Pool {
  const pool = new pg.Pool({ connectionString, options: SESSION_OPTIONS, max: 60 })
  pool.on('error', () => {}) // a session ended by dropping the database at the end of the file
  return pool
}

async function shippedClock(owner: pg.Pool): Promise<string> {
  const { rows } = await owner.query<{ definition: string }>(
    `SELECT pg_get_functiondef('public.kerf_now()'::regprocedure) AS definition`,
  )
  const definition = rows[0]?.definition ?? ''
  if (!/clock_timestamp\(\)/i.test(definition)) throw new Error('kerf_now() is not the shipped one')
  return definition
}

/** A migrated, empty database beside the file's own, for tests that need two. */
export async function newTestDatabase(): Promise<TestDatabase> {
  const serverOwnerUrl = inject('serverOwnerUrl')
  const ownerUrl = await copyTemplate(serverOwnerUrl, inject('templateName'))
  const asRuntime = runtimeUrl(ownerUrl)
  const owner = openPool(ownerUrl)
  const runtime = openPool(asRuntime)
  let shipped: string | undefined
  return {
    owner,
    runtime,
    ownerUrl,
    runtimeUrl: asRuntime,
    async setClock(offsetMs) {
      shipped ??= await shippedClock(owner)
      const moved = `(clock_timestamp() + interval '${Math.trunc(offsetMs)} milliseconds')`
      await owner.query(shipped.replace(/clock_timestamp\(\)/gi, moved))
    },
    async drop() {
      await Promise.all([owner.end(), runtime.end()])
      await dropDatabase(serverOwnerUrl, databaseName(ownerUrl))
    },
  }
}

const KEY = Symbol.for('kerfwatch.test-database')
const store = globalThis as { [KEY]?: TestDatabase }

export function keepFileDatabase(database: TestDatabase): void {
  store[KEY] = database
}

/** This test file's own database; made before the file is loaded, dropped after it. */
export function testDatabase(): TestDatabase {
  const database = store[KEY]
  if (!database) throw new Error('testDatabase() works in the "data" project only')
  return database
}

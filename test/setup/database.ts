import pg from 'pg'
import { inject } from 'vitest'
import { movedClockSql, RESTORE_CLOCK_SQL } from '@/lib/data/kerf-now'
import { dropDatabase } from '../../bin/lib/database.mjs'
import { copyTemplate } from '../../bin/lib/test-cluster.mjs'
import { databaseName, runtimeUrl, SESSION_OPTIONS } from '../../bin/lib/urls.mjs'

export interface TestDatabase {
  owner: pg.Pool
  runtime: pg.Pool
  ownerUrl: string
  runtimeUrl: string
  /** Moves `kerf_now()` of this database by so many milliseconds from the real clock; 0 is as shipped. */
  setClock: (offsetMs: number) => Promise<void>
  drop: () => Promise<void>
}

function openPool(connectionString: string): pg.Pool {
  const pool = new pg.Pool({ connectionString, options: SESSION_OPTIONS, max: 60 })
  pool.on('error', () => {}) // a session ended by dropping the database at the end of the file
  return pool
}

/** A migrated, empty database beside the file's own, for tests that need two. */
export async function newTestDatabase(): Promise<TestDatabase> {
  const serverOwnerUrl = inject('serverOwnerUrl')
  const ownerUrl = await copyTemplate(serverOwnerUrl, inject('templateName'))
  const asRuntime = runtimeUrl(ownerUrl)
  const owner = openPool(ownerUrl)
  const runtime = openPool(asRuntime)
  return {
    owner,
    runtime,
    ownerUrl,
    runtimeUrl: asRuntime,
    async setClock(offsetMs) {
      await owner.query(offsetMs === 0 ? RESTORE_CLOCK_SQL : movedClockSql(Math.trunc(offsetMs)))
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

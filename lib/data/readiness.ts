import 'server-only'
import { readdir } from 'node:fs/promises'
import path from 'node:path'
import { log } from '@/lib/log'
import { db } from './client'
import { SHIPPED_CLOCK_BODY } from './kerf-now'

export interface Readiness {
  ok: boolean
  database: boolean
  migrations: boolean
  clock: boolean
}

const shipped = async () => {
  const entries = await readdir(path.join(process.cwd(), 'prisma', 'migrations'), {
    withFileTypes: true,
  })
  return entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name)
}

async function areMigrationsApplied(): Promise<boolean> {
  const rows = await db.$queryRaw<{ migration_name: string }[]>`
    SELECT migration_name FROM _prisma_migrations WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL`
  const applied = new Set(rows.map((row) => row.migration_name))
  return (await shipped()).every((name) => applied.has(name))
}

// A database whose clock was moved for a test must never serve people.
async function isClockShipped(): Promise<boolean> {
  const rows = await db.$queryRaw<{ body: string; language: string }[]>`
    SELECT p.prosrc AS body, l.lanname AS language
    FROM pg_proc p JOIN pg_language l ON l.oid = p.prolang
    WHERE p.oid = to_regprocedure('public.kerf_now()')`
  const [clock] = rows
  return clock?.language === 'sql' && clock.body.trim() === SHIPPED_CLOCK_BODY
}

const holds = (check: Promise<boolean>, what: string) =>
  check.catch((error: unknown) => {
    log.error({ err: error, what }, 'ready.check-failed')
    return false
  })

/** Whether everything that a web process needs is there. */
export async function checkReadiness(): Promise<Readiness> {
  const database = await holds(
    db.$queryRaw`SELECT 1`.then(() => true),
    'database',
  )
  const [migrations, clock] = database
    ? await Promise.all([
        holds(areMigrationsApplied(), 'migrations'),
        holds(isClockShipped(), 'clock'),
      ])
    : [false, false]
  return { ok: database && migrations && clock, database, migrations, clock }
}

import 'server-only'
import { PrismaPg } from '@prisma/adapter-pg'
import { env } from '@/lib/env'
import { PrismaClient } from './generated/client'

// The driver drops a timestamp's offset, so a session in any other zone would shift every time by
// hours. The limits keep one stuck lock from holding a connection after its request has given up.
const SESSION_OPTIONS = [
  '-c timezone=UTC',
  '-c lock_timeout=6000',
  '-c statement_timeout=30000',
  '-c idle_in_transaction_session_timeout=30000',
].join(' ')

function createClient(): PrismaClient {
  const adapter = new PrismaPg({
    connectionString: env.KERFWATCH_DATABASE_URL,
    options: SESSION_OPTIONS,
    max: 12,
  })
  return new PrismaClient({ adapter })
}

const kept = globalThis as { kerfwatchDb?: PrismaClient }

/** The one client of this process. Reloading modules in development must not open another pool. */
export const db: PrismaClient = kept.kerfwatchDb ?? createClient()
kept.kerfwatchDb = db

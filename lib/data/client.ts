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

/** More than the app has statements; lists of differing lengths make some of them anew. */
const MOST_NAMED = 500

/**
 * A name for each text of a statement, so that a connection parses and plans it once and not on every
 * request. An empty name is no name: what comes after the first few hundred is not kept.
 */
function nameStatements(): (query: Readonly<{ sql: string }>) => string {
  const names = new Map<string, string>()
  return ({ sql }) => {
    const known = names.get(sql)
    if (known !== undefined) return known
    if (names.size >= MOST_NAMED) return ''
    const name = `kerfwatch_${names.size + 1}`
    names.set(sql, name)
    return name
  }
}

function createClient(): PrismaClient {
  const adapter = new PrismaPg(
    { connectionString: env.KERFWATCH_DATABASE_URL, options: SESSION_OPTIONS, max: 12 },
    { statementNameGenerator: nameStatements() },
  )
  return new PrismaClient({ adapter })
}

const kept = globalThis as { kerfwatchDb?: PrismaClient }

/** The one client of this process. Reloading modules in development must not open another pool. */
export const db: PrismaClient = kept.kerfwatchDb ?? createClient()
kept.kerfwatchDb = db

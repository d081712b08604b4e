import 'server-only'
import { Client } from 'pg'
import { env } from '@/lib/env'
import { log } from '@/lib/log'
import { db } from '../client'

/** Names the lock among the company's others: the first number is this program's, the second the look's. */
const LOCK = [7_310_551, 1] as const
/** A machine that is gone without a word is noticed after half a minute; a process that died, at once. */
const OPTIONS =
  '-c timezone=UTC -c tcp_keepalives_idle=15 -c tcp_keepalives_interval=5 -c tcp_keepalives_count=3'

/**
 * Acts as the only one who looks through the record. The lock is that of a session of its own, so that the
 * database itself lets go of it when the process that held it is gone, and another can take over.
 *
 * @returns what the act returned; null where somebody else is at it
 */
export async function asOnlyLook<T>(act: () => Promise<T>): Promise<T | null> {
  const client = new Client({ connectionString: env.KERFWATCH_DATABASE_URL, options: OPTIONS })
  client.on('error', (error) => log.warn({ err: error }, 'findings.lock'))
  await client.connect()
  try {
    const { rows } = await client.query('SELECT pg_try_advisory_lock($1, $2) AS "isMine"', [
      ...LOCK,
    ])
    return rows[0]?.isMine ? await act() : null
  } finally {
    // Where the session broke off there is nothing left to let go of.
    await client.end().catch(() => undefined)
  }
}

/** Whether anybody, in any process, is at it. */
export async function isAnyoneLooking(): Promise<boolean> {
  const rows = await db.$queryRaw<{ pid: number }[]>`
    SELECT l.pid FROM pg_locks l JOIN pg_database d ON d.oid = l.database AND d.datname = current_database()
    WHERE l.locktype = 'advisory' AND l.classid = ${LOCK[0]}::int AND l.objid = ${LOCK[1]}::int AND l.objsubid = 2 AND l.granted`
  return rows.length > 0
}

import 'server-only'
import { Client } from 'pg'
import { env } from '@/lib/env'
import { log } from '@/lib/log'

/** The channel that triggers notify at commit: which site, which table, what it is about. */
const CHANNEL = 'kerfwatch'
const RECONNECT_MS = 5_000

type Listener = (siteId: string) => void

const listeners = new Set<Listener>()
const kept = globalThis as { kerfwatchListening?: boolean }

function siteOf(payload: string | undefined): string | null {
  const told: unknown = JSON.parse(payload ?? 'null')
  const isTold = typeof told === 'object' && told !== null && 'siteId' in told
  return isTold && typeof told.siteId === 'string' ? told.siteId : null
}

async function listen(): Promise<void> {
  const client = new Client({ connectionString: env.KERFWATCH_DATABASE_URL, keepAlive: true })
  const again = () => {
    client.removeAllListeners()
    client.on('error', () => undefined) // a second one while it is already lost
    client.end().catch(() => undefined)
    setTimeout(() => void listen(), RECONNECT_MS).unref()
  }
  client.on('error', again)
  client.on('end', again)
  client.on('notification', ({ payload }) => {
    const siteId = siteOf(payload)
    if (siteId) for (const listener of listeners) listener(siteId)
  })
  try {
    await client.connect()
    await client.query(`LISTEN ${CHANNEL}`)
  } catch (error) {
    log.warn({ err: error }, 'live.reconnecting')
    again()
  }
}

/** Calls back whenever something was committed; one database connection a process serves everybody. */
export function onCommitted(listener: Listener): () => void {
  listeners.add(listener)
  if (!kept.kerfwatchListening) {
    kept.kerfwatchListening = true
    void listen()
  }
  return () => listeners.delete(listener)
}

import 'server-only'
import { Client } from 'pg'
import { sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { env } from '@/lib/env'
import { log } from '@/lib/log'
import { db } from './client'

/** The channel that triggers notify at commit: which site, which table, what it is about. */
const CHANNEL = 'kerfwatch'
const RECONNECT_MS = 5_000
/** An entry's time is read a moment before its commit shows it. */
const COMMIT_MS = 1_000
const CLOCK_FOR_MS = 15_000

type Listener = () => void

/** Who waits for what happens at each site, so that a change is told to nobody else. */
const kept = globalThis as {
  kerfwatchListeners?: Map<string, Set<Listener>>
  kerfwatchListening?: Promise<void>
}
kept.kerfwatchListeners ??= new Map()
const bySite = kept.kerfwatchListeners

function siteOf(payload: string | undefined): string | null {
  const told: unknown = JSON.parse(payload ?? 'null')
  const isTold = typeof told === 'object' && told !== null && 'siteId' in told
  return isTold && typeof told.siteId === 'string' ? told.siteId : null
}

/** What was committed while nobody listened can't be known: everybody looks. */
const tellAll = () => {
  for (const listener of new Set([...bySite.values()].flatMap((some) => [...some]))) listener()
}

async function listen(): Promise<void> {
  const client = new Client({ connectionString: env.KERFWATCH_DATABASE_URL, keepAlive: true })
  const again = () => {
    client.removeAllListeners()
    client.on('error', () => undefined) // a second one while it is already lost
    client.end().catch(() => undefined)
    setTimeout(() => void listen().then(tellAll), RECONNECT_MS).unref()
  }
  client.on('error', again)
  client.on('end', again)
  client.on('notification', ({ payload }) => {
    const siteId = siteOf(payload)
    if (siteId) for (const listener of bySite.get(siteId) ?? []) listener()
  })
  try {
    await client.connect()
    await client.query(`LISTEN ${CHANNEL}`)
  } catch (error) {
    log.warn({ err: error }, 'live.reconnecting')
    again()
  }
}

/** Calls back for each thing committed at the viewer's sites; one database connection a process serves everybody. */
export function onCommitted(viewer: Viewer, listener: Listener): () => void {
  const siteIds = sitesWhere(viewer, 'site:read')
  for (const siteId of siteIds) {
    const there = bySite.get(siteId) ?? new Set()
    bySite.set(siteId, there.add(listener))
  }
  kept.kerfwatchListening ??= listen()
  return () => {
    for (const siteId of siteIds) {
      const there = bySite.get(siteId)
      there?.delete(listener)
      if (there?.size === 0) bySite.delete(siteId)
    }
  }
}

const clock = { aheadMs: 0, readAtMs: Number.NEGATIVE_INFINITY }

function clockRead(nowMs: number): number {
  clock.aheadMs = nowMs - Date.now()
  clock.readAtMs = performance.now()
  return nowMs
}

/** The database's clock by what was read of it last. */
export const lastNowMs = () => Math.round(Date.now() + clock.aheadMs)

/** The database's clock, asked for once in a while for all streams of this process together. */
export async function sharedNowMs(): Promise<number> {
  if (performance.now() - clock.readAtMs > CLOCK_FOR_MS) {
    clock.readAtMs = performance.now() // the others go on by what was read before
    const [row] = await db.$queryRaw<{ now: bigint }[]>`SELECT kerf_ms(kerf_now()) AS now`
    clockRead(Number(row?.now))
  }
  return lastNowMs()
}

/**
 * For a stream that begins: the database's clock, and whether anything was committed at the viewer's sites since
 * what they look at was drawn. Asked after listening has begun, so nothing falls between.
 */
export async function liveSince(
  viewer: Viewer,
  sinceMs: number | null,
): Promise<Readonly<{ nowMs: number; isBehind: boolean }>> {
  await kept.kerfwatchListening
  const chains = [...sitesWhere(viewer, 'site:read')]
  const from = sinceMs === null ? null : new Date(sinceMs - COMMIT_MS)
  const [row] = await db.$queryRaw<{ now: bigint; is_behind: boolean }[]>`
    SELECT kerf_ms(kerf_now()) AS now, EXISTS (
      SELECT 1 FROM unnest(${chains}::text[]) AS mine(chain), LATERAL (
        SELECT at FROM audit_entries e WHERE e.chain = mine.chain ORDER BY seq DESC LIMIT 1) AS last
      WHERE last.at > ${from}::timestamptz) AS is_behind`
  return { nowMs: clockRead(Number(row?.now)), isBehind: row?.is_behind ?? false }
}

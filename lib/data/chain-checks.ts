import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { log } from '@/lib/log'
import { db } from './client'
import { inTransaction, SYSTEM, type Tx } from './tx'

const NO_HASH = '0'.repeat(64)
/** Entries walked in one check; what is left comes with the next. */
const MOST_ENTRIES = 200_000

interface Start {
  seq: bigint
  hash: string
}
/** The last entry that a check found good; the chain must still hold it. */
type Known = Start & { is_from_today: boolean; is_last: boolean }
interface Walked {
  last_seq: bigint | null
  last_hash: string | null
  first_bad: bigint | null
}
export interface ChainVerdict {
  checkedAt: Date
  lastSeq: number
  lastHash: string
  ok: boolean
  firstBadSeq: number | null
}

const BEGINNING: Start = { seq: 0n, hash: NO_HASH }

async function lastKnown(tx: Tx, chain: string): Promise<Known | null> {
  const rows = await tx.$queryRaw<Known[]>`
    SELECT last_seq AS seq, last_hash AS hash, checked_at >= date_trunc('day', kerf_now()) AS is_from_today,
           NOT EXISTS (SELECT 1 FROM chain_checks l WHERE l.chain = c.chain AND NOT l.ok AND l.checked_at >= c.checked_at) AS is_last
    FROM chain_checks c WHERE chain = ${chain} AND ok ORDER BY last_seq DESC, checked_at DESC LIMIT 1`
  return rows[0] ?? null
}

/** A tail that was cut, or an entry made anew, shows at the entry that the last good check ended with. */
async function isKept(tx: Tx, chain: string, known: Start | null): Promise<boolean> {
  if (!known || known.seq === 0n) return true
  return (await tx.auditEntry.count({ where: { chain, seq: known.seq, hash: known.hash } })) === 1
}

async function walk(tx: Tx, chain: string, start: Start): Promise<Walked> {
  const rows = await tx.$queryRaw<Walked[]>`
    WITH walked AS (
      SELECT seq, hash,
        seq <> ${start.seq} + row_number() OVER by_seq
        OR prev_hash <> lag(hash, 1, ${start.hash}) OVER by_seq
        OR hash <> encode(sha256(convert_to(prev_hash || payload, 'UTF8')), 'hex')
        OR payload::jsonb ->> 'seq' <> seq::text OR payload::jsonb ->> 'act' <> act OR payload::jsonb ->> 'role' <> actor_role
        OR payload::jsonb ->> 'actor' IS DISTINCT FROM actor_id::text OR (payload::jsonb ->> 'at')::timestamptz <> at AS is_bad
      FROM audit_entries WHERE chain = ${chain} AND seq > ${start.seq}
      WINDOW by_seq AS (ORDER BY seq)
      ORDER BY seq LIMIT ${MOST_ENTRIES}),
    bad AS (SELECT min(seq) AS seq FROM walked WHERE is_bad)
    SELECT last.seq AS last_seq, last.hash AS last_hash, bad.seq AS first_bad
    FROM bad LEFT JOIN LATERAL (
      SELECT seq, hash FROM walked WHERE bad.seq IS NULL OR seq < bad.seq ORDER BY seq DESC LIMIT 1) AS last ON true`
  return rows[0] ?? { last_seq: null, last_hash: null, first_bad: null }
}

async function checkChain(chain: string): Promise<boolean> {
  return inTransaction(SYSTEM, 'chain:check', async (tx) => {
    const known = await lastKnown(tx, chain)
    // The day's first check, and every one after a bad one, walks from the first entry.
    const start = known?.is_from_today && known.is_last ? known : BEGINNING
    const found = await walk(tx, chain, start)
    const isCut = found.first_bad === null && !(await isKept(tx, chain, known))
    const walked = isCut ? { ...found, first_bad: known?.seq ?? 1n } : found
    const firstBadSeq = walked.first_bad
    await tx.chainCheck.create({
      select: { id: true },
      data: {
        id: uuidv7(),
        chain,
        lastSeq: walked.last_seq ?? start.seq,
        lastHash: walked.last_hash ?? start.hash,
        ok: firstBadSeq === null,
        firstBadSeq,
      },
    })
    return firstBadSeq === null
  })
}

/** Checks every site's chain and the company's, saying so after each. The verdicts are kept; pages show the last. */
export async function checkChains(
  afterEach: () => Promise<unknown> = async () => {},
): Promise<void> {
  const sites = await db.site.findMany({ select: { id: true }, orderBy: { id: 'asc' } })
  for (const chain of ['company', ...sites.map((site) => site.id)]) {
    const holds = await checkChain(chain)
    if (!holds) log.error({ chain }, 'chain.altered')
    await afterEach()
  }
}

/** The last check of a chain (a site's id, or "company"); null before the first. The caller has checked the viewer. */
export async function lastChainCheck(chain: string): Promise<ChainVerdict | null> {
  const check = await db.chainCheck.findFirst({
    where: { chain },
    orderBy: [{ checkedAt: 'desc' }, { id: 'desc' }],
  })
  if (!check) return null
  return {
    checkedAt: check.checkedAt,
    lastSeq: Number(check.lastSeq),
    lastHash: check.lastHash,
    ok: check.ok,
    firstBadSeq: check.firstBadSeq === null ? null : Number(check.firstBadSeq),
  }
}

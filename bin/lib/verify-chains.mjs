// Recomputes the audit chains from their stored payloads, with Node's own sha256.
import { createHash } from 'node:crypto'
import { inBatches } from './verify-read.mjs'

const NO_HASH = '0'.repeat(64)
const sha256 = (text) => createHash('sha256').update(text, 'utf8').digest('hex')

/** What each column must say again in the payload that was hashed. */
const REPEATED = {
  chain: 'chain',
  act: 'act',
  actor_role: 'role',
  actor_id: 'actor',
  table_name: 'table',
  subject_id: 'subject',
}

/** Why this entry does not follow the one before; null when it does. */
function whyBroken(entry, previous) {
  if (Number(entry.seq) !== previous.seq + 1) return 'MISSING_BEFORE'
  if (entry.prev_hash !== previous.hash) return 'PREVIOUS_HASH'
  if (entry.hash !== sha256(entry.prev_hash + entry.payload)) return 'PAYLOAD_ALTERED'
  const payload = JSON.parse(entry.payload)
  if (payload.seq !== Number(entry.seq) || Date.parse(payload.at) !== entry.at.getTime())
    return 'COLUMN_ALTERED'
  const isRepeated = Object.entries(REPEATED).every(
    ([column, key]) => (entry[column] ?? null) === (payload[key] ?? null),
  )
  return isRepeated ? null : 'COLUMN_ALTERED'
}

/**
 * Walks one chain from its first entry to the first that is not what it was.
 *
 * @returns {Promise<{ chain: string, entries: number, lastSeq: number, lastHash: string,
 *   firstBad: null | { seq: number, why: string } }>}
 */
async function walkChain(client, chain, onEntry) {
  const previous = { seq: 0, hash: NO_HASH }
  let firstBad = null
  const sql = 'SELECT * FROM audit_entries WHERE chain = $1 ORDER BY seq'
  for await (const entry of inBatches(client, sql, [chain])) {
    const why = whyBroken(entry, previous)
    if (why) {
      firstBad = { seq: Number(entry.seq), why }
      break
    }
    previous.seq = Number(entry.seq)
    previous.hash = entry.hash
    onEntry(entry)
  }
  return { chain, entries: previous.seq, lastSeq: previous.seq, lastHash: previous.hash, firstBad }
}

/** Every chain, or the one asked for; a site without an entry has an empty one. */
export async function verifyChains(client, { chain: only = null, onEntry = () => {} } = {}) {
  const { rows } = await client.query(
    `SELECT chain FROM (SELECT DISTINCT chain FROM audit_entries UNION SELECT id::text FROM sites UNION SELECT 'company') AS all_chains
     WHERE $1::text IS NULL OR chain = $1 ORDER BY chain`,
    [only],
  )
  const results = []
  for (const { chain } of rows) results.push(await walkChain(client, chain, onEntry))
  return results
}

/**
 * Whether entry NUMBER of a chain still carries HASH: what somebody wrote down earlier. A tail that
 * was cut off leaves a chain that is sound in itself; only this finds it.
 */
export async function verifyExpected(client, { chain, seq, hash }) {
  const { rows } = await client.query(
    'SELECT hash FROM audit_entries WHERE chain = $1 AND seq = $2',
    [chain, seq],
  )
  const found = rows[0]?.hash ?? null
  return {
    chain,
    seq,
    holds: found === hash,
    why: found === null ? 'ENTRY_GONE' : found === hash ? null : 'HASH_DIFFERS',
  }
}

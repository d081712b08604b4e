import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { db } from '../client'
import { assertOnPermit } from '../permits/context'
import { listPictures, type PictureSeen, readPicture } from '../pictures/pictures'
import type { RecordEntry } from './entries'
import { getRecord, type PermitRecord } from './record'

/** What ties the record to the site's chain: its last entry as it was stored, with the whole hash. */
export type ChainProof = Readonly<{ first: number; last: number; lastHash: string; count: number }>

export type KeptPicture = PictureSeen & Readonly<{ mime: string; bytes: Uint8Array }>

export type WholeRecord = Readonly<{
  record: PermitRecord
  /** Every entry, however many pages the screen has of them. */
  entries: readonly RecordEntry[]
  proof: ChainProof | null
  pictures: readonly KeptPicture[]
  signatures: readonly Readonly<{
    name: string
    act: string
    at: Date
    contentHash: string | null
  }>[]
}>

const MOST_PAGES = 60

/** One permit's record in one piece, for a file that is kept elsewhere. */
export async function getWholeRecord(viewer: Viewer, permitId: string): Promise<WholeRecord> {
  await assertOnPermit(viewer, 'record:read', permitId)
  const record = await getRecord(viewer, { permitId, isAll: true, after: 0 })
  const entries = [...record.entries]
  let next = record.next
  for (let page = 1; next !== null && page < MOST_PAGES; page += 1) {
    const more: PermitRecord = await getRecord(viewer, { permitId, isAll: true, after: next })
    entries.push(...more.entries)
    next = more.next
  }
  const [proof, seen, signatures] = await Promise.all([
    readProof(record.head.siteId, permitId),
    listPictures(permitId),
    db.$queryRaw<{ name: string; act: string; at: Date; content_hash: string | null }[]>`
      SELECT q.name, s.act, s.at, s.content_hash FROM signatures s JOIN people q ON q.id = s.person_id
      WHERE s.permit_id = ${permitId}::uuid ORDER BY s.at, s.id`,
  ])
  const pictures: KeptPicture[] = []
  for (const one of seen) pictures.push({ ...one, ...(await readPicture(viewer, one.id)) })
  return {
    record,
    entries,
    proof,
    pictures,
    signatures: signatures.map(({ content_hash, ...row }) => ({
      ...row,
      contentHash: content_hash,
    })),
  }
}

async function readProof(siteId: string, permitId: string): Promise<ChainProof | null> {
  const [row] = await db.$queryRaw<
    { first: bigint; last: bigint; last_hash: string; count: bigint }[]
  >`
    SELECT min(seq) AS first, max(seq) AS last, (array_agg(hash ORDER BY seq DESC))[1] AS last_hash, count(*) AS count
    FROM audit_entries WHERE chain = ${siteId} AND subject_id = ${permitId} HAVING count(*) > 0`
  return row
    ? {
        first: Number(row.first),
        last: Number(row.last),
        lastHash: row.last_hash,
        count: Number(row.count),
      }
    : null
}

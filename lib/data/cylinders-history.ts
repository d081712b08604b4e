import 'server-only'
import { sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { db } from './client'
import { cylinderScope } from './cylinders'

const PAGE = 50

export type CylinderEventRow = Readonly<{
  id: string
  seq: number
  kind: string
  at: Date
  recordedAt: Date
  deviceAt: Date | null
  personName: string
  roleThen: string
  siteName: string
  toSiteName: string | null
  outfitNumber: string | null
  side: string | null
  gaugeKpa: number | null
  weightKg: number | null
  temperatureK: number | null
  contentsKg: number | null
  contentsUKg: number | null
  markedEmpty: boolean
  reason: string | null
  correctsSeq: number | null
  /** Place and code of its entry in the site's record; null until the entry is read. */
  entry: { seq: number; code: string } | null
}>

export type CylinderHistory = Readonly<{ events: readonly CylinderEventRow[]; next: number | null; elsewhere: number }>

const CODE_LENGTH = 6

async function readEntries(siteIds: readonly string[], eventIds: readonly string[]) {
  const entries = await db.auditEntry.findMany({
    where: { subjectId: { in: [...eventIds] }, chain: { in: [...siteIds] } },
    orderBy: [{ chain: 'asc' }, { seq: 'asc' }],
    select: { subjectId: true, seq: true, hash: true },
  })
  return new Map(entries.map((entry) => [entry.subjectId, { seq: Number(entry.seq), code: entry.hash.slice(0, CODE_LENGTH) }]))
}

type Ids = readonly (string | null)[]
const known = (ids: Ids) => [...new Set(ids.filter((id) => id !== null))]

async function readNames(rows: readonly { personId: string; siteId: string; toSiteId: string | null; outfitId: string | null }[]) {
  const [people, sites, outfits] = await Promise.all([
    db.person.findMany({ where: { id: { in: known(rows.map((row) => row.personId)) } }, select: { id: true, name: true } }),
    db.site.findMany({ where: { id: { in: known(rows.flatMap((row) => [row.siteId, row.toSiteId])) } }, select: { id: true, name: true } }),
    db.outfit.findMany({ where: { id: { in: known(rows.map((row) => row.outfitId)) } }, select: { id: true, number: true } }),
  ])
  return new Map([
    ...people.map((row) => [row.id, row.name] as const),
    ...sites.map((row) => [row.id, row.name] as const),
    ...outfits.map((row) => [row.id, row.number] as const),
  ])
}

/** What happened to a cylinder at the viewer's sites, newest first; the rest is only counted. */
export async function listCylinderEvents(viewer: Viewer, cylinderId: string, beforeSeq: number | null): Promise<CylinderHistory> {
  const cylinder = await db.cylinder.findFirst({ where: cylinderScope(viewer, cylinderId), select: { id: true } })
  if (!cylinder) throw new AppError('NOT_FOUND')
  const siteIds = sitesWhere(viewer, 'cylinder:read')
  const mine = { OR: [{ siteId: { in: siteIds } }, { toSiteId: { in: siteIds } }] }
  const [rows, elsewhere] = await Promise.all([
    db.cylinderEvent.findMany({
      where: { cylinderId, ...mine, ...(beforeSeq === null ? {} : { seq: { lt: beforeSeq } }) },
      orderBy: { seq: 'desc' },
      take: PAGE + 1,
    }),
    db.cylinderEvent.count({ where: { cylinderId, NOT: mine } }),
  ])
  const shown = rows.slice(0, PAGE)
  const correctedIds = known(shown.map((row) => row.correctsId))
  const [names, entries, corrected] = await Promise.all([
    readNames(shown),
    readEntries(siteIds, shown.map((row) => row.id)),
    correctedIds.length === 0 ? [] : db.cylinderEvent.findMany({ where: { id: { in: correctedIds } }, select: { id: true, seq: true } }),
  ])
  const seqOf = new Map(corrected.map((row) => [row.id, row.seq]))
  const name = (id: string | null) => (id === null ? null : (names.get(id) ?? null))
  return {
    events: shown.map((row) => ({
      id: row.id,
      seq: row.seq,
      kind: row.kind,
      at: row.at,
      recordedAt: row.recordedAt,
      deviceAt: row.deviceAt,
      personName: name(row.personId) ?? '',
      roleThen: row.roleThen,
      siteName: name(row.siteId) ?? '',
      toSiteName: name(row.toSiteId),
      outfitNumber: name(row.outfitId),
      side: row.side,
      gaugeKpa: row.gaugeKpa,
      weightKg: row.weightKg,
      temperatureK: row.temperatureK,
      contentsKg: row.contentsKg,
      contentsUKg: row.contentsUKg,
      markedEmpty: row.markedEmpty,
      reason: row.reason,
      correctsSeq: row.correctsId === null ? null : (seqOf.get(row.correctsId) ?? null),
      entry: entries.get(row.id) ?? null,
    })),
    next: rows.length > PAGE ? (shown.at(-1)?.seq ?? null) : null,
    elsewhere,
  }
}

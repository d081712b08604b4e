import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { type Action, assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { IncidentKind } from '@/lib/permit/incident'
import type { PermitState } from '@/lib/permit/types'
import type { IncidentStepInput, RecordIncidentInput } from '@/lib/schemas/incident'
import { db } from './client'
import { once } from './client-keys'
import { roleThen } from './role-then'
import { type ResolvedSite, resolveSite } from './sites'
import { inTransaction } from './tx'

const MS_PER_MIN = 60_000
const MOST = 100

export type IncidentRow = Readonly<{
  id: string
  kind: IncidentKind
  what: string
  done: string | null
  happenedAt: Date
  recordedAt: Date
  areaName: string
  permit: Readonly<{ id: string; number: string }> | null
  outfitNumber: string | null
  byName: string
  isClosed: boolean
}>

interface Stored {
  id: string
  site_id: string
  kind: IncidentKind
  what: string
  done_words: string | null
  happened_at: Date
  recorded_at: Date
  area: string
  permit_id: string | null
  permit_number: string | null
  outfit: string | null
  by_name: string
  is_closed: boolean
}

const toRow = (row: Stored): IncidentRow => ({
  id: row.id,
  kind: row.kind,
  what: row.what,
  done: row.done_words,
  happenedAt: row.happened_at,
  recordedAt: row.recorded_at,
  areaName: row.area,
  permit: row.permit_id === null ? null : { id: row.permit_id, number: row.permit_number ?? '' },
  outfitNumber: row.outfit,
  byName: row.by_name,
  isClosed: row.is_closed,
})

async function readRows(where: { siteId?: string; id?: string }): Promise<Stored[]> {
  return db.$queryRaw<Stored[]>`
    SELECT i.id, i.site_id, i.kind, i.what, i.done_words, i.happened_at, i.recorded_at, a.name AS area, i.permit_id,
      j.number || '-' || p.number AS permit_number, o.number AS outfit, q.name AS by_name,
      EXISTS (SELECT 1 FROM incident_events e WHERE e.incident_id = i.id AND e.kind = 'closed') AS is_closed
    FROM incidents i JOIN areas a ON a.id = i.area_id JOIN people q ON q.id = i.person_id
      LEFT JOIN permits p ON p.id = i.permit_id LEFT JOIN jobs j ON j.id = p.job_id LEFT JOIN outfits o ON o.id = i.outfit_id
    WHERE i.site_id = coalesce(${where.siteId ?? null}::uuid, i.site_id) AND i.id = coalesce(${where.id ?? null}::uuid, i.id)
    ORDER BY is_closed, i.recorded_at DESC, i.id DESC LIMIT ${MOST}`
}

export type IncidentList = Readonly<{
  site: ResolvedSite
  incidents: readonly IncidentRow[]
  canRecord: boolean
}>

/** What happened at a site, what is still open first. */
export async function listIncidents(
  viewer: Viewer,
  wanted: string | string[] | undefined,
): Promise<IncidentList> {
  const site = await resolveSite(viewer, wanted)
  assertCan(viewer, 'permit:read', site.id)
  const rows = await readRows({ siteId: site.id })
  return { site, incidents: rows.map(toRow), canRecord: can(viewer, 'incident:record', site.id) }
}

export type IncidentView = IncidentRow &
  Readonly<{
    siteId: string
    zone: string
    steps: readonly Readonly<{
      id: string
      kind: 'followed_up' | 'closed'
      words: string
      at: Date
      byName: string
    }>[]
    canClose: boolean
  }>

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i

async function readOne(viewer: Viewer, id: string, action: Action): Promise<Stored> {
  if (!UUID.test(id)) throw new AppError('NOT_FOUND')
  const [row] = await readRows({ id })
  if (!row) throw new AppError('NOT_FOUND')
  assertCan(viewer, action, row.site_id)
  return row
}

/** One incident and what was done about it since. */
export async function getIncident(viewer: Viewer, id: string): Promise<IncidentView> {
  const row = await readOne(viewer, id, 'permit:read')
  const [steps, site] = await Promise.all([
    db.$queryRaw<
      { id: string; kind: 'followed_up' | 'closed'; words: string; at: Date; name: string }[]
    >`
      SELECT e.id, e.kind, e.words, e.at, q.name FROM incident_events e JOIN people q ON q.id = e.person_id
      WHERE e.incident_id = ${id}::uuid ORDER BY e.at, e.id`,
    db.site.findUniqueOrThrow({ where: { id: row.site_id }, select: { zone: true } }),
  ])
  return {
    ...toRow(row),
    siteId: row.site_id,
    zone: site.zone,
    steps: steps.map(({ name, ...step }) => ({ ...step, byName: name })),
    canClose: !row.is_closed && can(viewer, 'incident:close', row.site_id),
  }
}

export type IncidentDesk = Readonly<{
  site: ResolvedSite
  areas: readonly Readonly<{ id: string; name: string }>[]
  outfits: readonly Readonly<{ id: string; number: string }>[]
  permit: Readonly<{
    id: string
    areaId: string
    outfitId: string | null
    state: PermitState
  }> | null
}>

/** What the form offers; a permit that the address names is the one that it happened under. */
export async function getIncidentDesk(
  viewer: Viewer,
  wanted: Readonly<{ site: string | string[] | undefined; permit: string | undefined }>,
): Promise<IncidentDesk> {
  const found = wanted.permit
    ? await db.permit.findUnique({
        where: { id: wanted.permit },
        select: { id: true, siteId: true, areaId: true, outfitId: true, state: true },
      })
    : null
  const site = await resolveSite(viewer, found?.siteId ?? wanted.site)
  assertCan(viewer, 'incident:record', site.id)
  const [areas, outfits] = await Promise.all([
    db.area.findMany({
      where: { siteId: site.id },
      select: { id: true, name: true },
      orderBy: { name: 'asc' },
      take: 200,
    }),
    db.outfit.findMany({
      where: { siteId: site.id },
      select: { id: true, number: true },
      orderBy: { number: 'asc' },
      take: 200,
    }),
  ])
  const permit = found && {
    id: found.id,
    areaId: found.areaId,
    outfitId: found.outfitId,
    state: found.state as PermitState, // a CHECK holds the column to these
  }
  return { site, areas, outfits, permit }
}

/** Kept at once; what follows (hold, watch, quarantine) is the database's in the same breath. */
export async function recordIncident(
  viewer: Viewer,
  input: RecordIncidentInput,
): Promise<{ incidentId: string; permitId: string | null }> {
  const area = await db.area.findUnique({
    where: { id: input.areaId },
    select: { siteId: true },
  })
  if (!area) throw new AppError('NOT_FOUND')
  const { siteId } = area
  assertCan(viewer, 'incident:record', siteId)
  const { permitId, outfitId, kind, what, done, agoMin, deviceAt } = input
  if (permitId && (await db.permit.count({ where: { id: permitId, siteId } })) === 0)
    throw new AppError('NOT_FOUND')
  if (outfitId && (await db.outfit.count({ where: { id: outfitId, siteId } })) === 0)
    throw new AppError('NOT_FOUND')
  const role = roleThen(viewer, 'incident:record', siteId)
  return inTransaction(viewer, 'incident:record', (tx) =>
    once(tx, viewer, { key: input.key, action: 'incident:record', input }, async () => {
      const [clock] = await tx.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`
      const happenedAt = new Date((clock?.now.getTime() ?? 0) - agoMin * MS_PER_MIN)
      const id = uuidv7()
      await tx.incident.create({
        select: { id: true },
        data: {
          ...{ id, siteId, areaId: input.areaId, permitId, outfitId, kind, what, deviceAt },
          doneWords: done,
          happenedAt,
          personId: viewer.personId,
          roleThen: role,
        },
      })
      return { incidentId: id, permitId }
    }),
  )
}

async function addStep(
  viewer: Viewer,
  input: IncidentStepInput,
  kind: 'followed_up' | 'closed',
): Promise<{ incidentId: string }> {
  const { site_id: siteId } = await readOne(viewer, input.incidentId, 'incident:close')
  const role = roleThen(viewer, 'incident:close', siteId)
  const { key, incidentId, words } = input
  return inTransaction(viewer, 'incident:close', (tx) =>
    once(tx, viewer, { key, action: `incident:${kind}`, input }, async () => {
      await tx.incidentEvent.create({
        select: { id: true },
        data: {
          ...{ id: uuidv7(), siteId, incidentId, kind, words },
          personId: viewer.personId,
          roleThen: role,
        },
      })
      return { incidentId }
    }),
  )
}

/** What was found out or put right. */
export const followUpIncident = (viewer: Viewer, input: IncidentStepInput) =>
  addStep(viewer, input, 'followed_up')

/** Closed once, after a follow-up; a flashback after its outfit was inspected. */
export const closeIncident = (viewer: Viewer, input: IncidentStepInput) =>
  addStep(viewer, input, 'closed')

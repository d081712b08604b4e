import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { type CountLine, countLine, EVENT_OF_LINE } from '@/lib/rules/stock-count'
import type { EndCountInput, SightingInput, StartCountInput } from '@/lib/schemas/stock-count'
import { db } from './client'
import { once } from './client-keys'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

const MOST_LINES = 5_000

async function findCount(viewer: Viewer, countId: string) {
  const found = await db.stockCount.findFirst({
    where: { id: countId, siteId: { in: sitesWhere(viewer, 'site:read') } },
    select: { id: true, siteId: true, at: true },
  })
  if (!found) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'cylinder:move', found.siteId)
  return found
}

export async function startCount(
  viewer: Viewer,
  input: StartCountInput,
): Promise<{ countId: string }> {
  const role = roleThen(viewer, 'cylinder:move', input.siteId)
  return inTransaction(viewer, 'count:start', (tx) =>
    once(tx, viewer, { key: input.key, action: 'count:start', input }, async () => {
      const countId = uuidv7()
      await tx.stockCount.create({
        data: { id: countId, siteId: input.siteId, personId: viewer.personId, roleThen: role },
        select: { id: true },
      })
      return { countId }
    }),
  )
}

/** One cylinder seen; seen again it changes nothing. */
export async function recordSighting(
  viewer: Viewer,
  input: SightingInput,
): Promise<{ countId: string; serial: string }> {
  const count = await findCount(viewer, input.countId)
  const role = roleThen(viewer, 'cylinder:move', count.siteId)
  return inTransaction(viewer, 'count:see', (tx) =>
    once(tx, viewer, { key: input.key, action: 'count:see', input }, async () => {
      await tx.$executeRaw`
        INSERT INTO stock_sightings (id, count_id, site_id, serial, area_id, person_id, role_then)
        VALUES (${uuidv7()}::uuid, ${input.countId}::uuid, ${count.siteId}::uuid, ${input.serial}, ${input.areaId}::uuid, ${viewer.personId}::uuid, ${role})
        ON CONFLICT (count_id, serial) DO NOTHING`
      return { countId: input.countId, serial: input.serial }
    }),
  )
}

type LineRow = Readonly<{
  serial: string
  cylinderId: string | null
  status: string | null
  siteId: string | null
  areaId: string | null
  seenAreaId: string | null
  isSeen: boolean
  gasId: string | null
  sizeName: string | null
}>
type Judged = LineRow & Readonly<{ line: CountLine }>

/** Everything that was seen, and everything that should have been. */
async function judgeCount(
  tx: Tx,
  count: Readonly<{ id: string; siteId: string }>,
): Promise<Judged[]> {
  const rows = await tx.$queryRaw<LineRow[]>`
    SELECT coalesce(c.serial, s.serial) AS serial, c.id AS "cylinderId", c.status, c.site_id AS "siteId", c.area_id AS "areaId",
           s.area_id AS "seenAreaId", s.id IS NOT NULL AS "isSeen", c.gas_id AS "gasId", z.name AS "sizeName"
    FROM (SELECT * FROM stock_sightings WHERE count_id = ${count.id}::uuid) s
    FULL JOIN (SELECT * FROM cylinders WHERE (site_id = ${count.siteId}::uuid AND status <> 'in_transit')
               OR serial IN (SELECT serial FROM stock_sightings WHERE count_id = ${count.id}::uuid)) c ON c.serial = s.serial
    LEFT JOIN cylinder_sizes z ON z.id = c.size_id
    ORDER BY 1 LIMIT ${MOST_LINES}`
  return rows.map((row) => ({
    ...row,
    line: countLine(
      count.siteId,
      row.isSeen ? { areaId: row.seenAreaId } : null,
      row.status === null ? null : { status: row.status, siteId: row.siteId, areaId: row.areaId },
    ),
  }))
}

export type CountView = Readonly<{
  id: string
  siteId: string
  siteName: string
  zone: string
  at: Date
  areas: readonly Readonly<{ id: string; name: string }>[]
  lines: readonly Readonly<{
    serial: string
    line: CountLine
    becomes: string | null
    gasId: string | null
    sizeName: string | null
    isMine: boolean
  }>[]
  end: Readonly<{
    found: number
    misplaced: number
    lost: number
    leftOpen: number
    at: Date
  }> | null
}>

export async function getCount(viewer: Viewer, countId: string): Promise<CountView> {
  const count = await findCount(viewer, countId)
  const [site, areas, lines, end] = await Promise.all([
    db.site.findUniqueOrThrow({
      where: { id: count.siteId },
      select: { name: true, zone: true },
    }),
    db.area.findMany({
      where: { siteId: count.siteId },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
    judgeCount(db, count),
    db.stockCountEnd.findUnique({
      where: { countId },
      select: { found: true, misplaced: true, lost: true, leftOpen: true, at: true },
    }),
  ])
  const mine = new Set(sitesWhere(viewer, 'cylinder:move'))
  return {
    id: count.id,
    siteId: count.siteId,
    siteName: site.name,
    zone: site.zone,
    at: count.at,
    areas,
    end,
    lines: lines.map(({ serial, line, gasId, sizeName, siteId }) => {
      // Of what stands at somebody else's site nothing is told but that.
      const isMine = siteId === null || mine.has(siteId)
      return {
        serial,
        line,
        becomes: isMine ? EVENT_OF_LINE[line] : null,
        gasId: isMine ? gasId : null,
        sizeName: isMine ? sizeName : null,
        isMine,
      }
    }),
  }
}

export async function listCounts(
  viewer: Viewer,
  siteId: string,
): Promise<readonly Readonly<{ id: string; at: Date; isOver: boolean; seen: number }>[]> {
  assertCan(viewer, 'cylinder:move', siteId)
  const counts = await db.stockCount.findMany({
    where: { siteId },
    orderBy: { at: 'desc' },
    take: 10,
    select: {
      id: true,
      at: true,
      end: { select: { at: true } },
      _count: { select: { sightings: true } },
    },
  })
  return counts.map(({ end, _count, ...row }) => ({
    ...row,
    isOver: end !== null,
    seen: _count.sightings,
  }))
}

type By = Readonly<{ personId: string; roleThen: string; countId: string }>

/** The event that a confirmed line becomes. */
function eventOf(row: Judged, siteId: string, by: By) {
  const kind = EVENT_OF_LINE[row.line]
  if (!kind || !row.cylinderId) return null
  const areaId = row.seenAreaId ?? (row.line === 'found' ? row.areaId : null)
  return {
    id: uuidv7(),
    cylinderId: row.cylinderId,
    kind,
    siteId: kind === 'moved' ? (row.siteId ?? siteId) : siteId,
    toSiteId: kind === 'moved' ? siteId : null,
    areaId: row.status === 'in_use' || kind === 'lost' ? null : areaId,
    reason: kind === 'lost' ? 'Not seen at the count' : null,
    ...by,
  }
}

export type CountEnded = {
  countId: string
  found: number
  misplaced: number
  lost: number
  leftOpen: number
}

const MISPLACED: ReadonlySet<CountLine> = new Set([
  'other_area',
  'other_site',
  'away',
  'on_the_way',
])

/**
 * Ends a count: what was seen where it should be is recorded as seen; what was misplaced or missing
 * becomes an event only where a second look confirmed it. The rest stays as it was.
 */
export async function endCount(viewer: Viewer, input: EndCountInput): Promise<CountEnded> {
  const count = await findCount(viewer, input.countId)
  const role = roleThen(viewer, 'cylinder:move', count.siteId)
  if (!input.lookedTwice) throw new AppError('LOOK_TWICE')
  return inTransaction(viewer, 'count:end', (tx) =>
    once(tx, viewer, { key: input.key, action: 'count:end', input }, async () => {
      const confirmed = new Set(input.confirmed)
      const mine = new Set(sitesWhere(viewer, 'cylinder:move'))
      const lines = await judgeCount(tx, count)
      const done = lines.filter(
        (row) =>
          (row.line === 'found' || confirmed.has(row.serial)) &&
          (row.siteId === null || mine.has(row.siteId)),
      )
      const by = { personId: viewer.personId, roleThen: role, countId: count.id }
      const events = done
        .flatMap((row) => eventOf(row, count.siteId, by) ?? [])
        .sort((a, b) => (a.cylinderId < b.cylinderId ? -1 : 1))
      await tx.cylinderEvent.createMany({ data: events })
      const of = (is: (line: CountLine) => boolean) => done.filter((row) => is(row.line)).length
      const result = {
        found: of((line) => line === 'found'),
        misplaced: of((line) => MISPLACED.has(line)),
        lost: of((line) => line === 'missing'),
        leftOpen: lines.length - done.length,
      }
      await tx.stockCountEnd.create({
        data: {
          countId: count.id,
          siteId: count.siteId,
          ...result,
          personId: viewer.personId,
          roleThen: role,
        },
        select: { countId: true },
      })
      return { countId: count.id, ...result }
    }),
  )
}

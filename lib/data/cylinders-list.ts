import 'server-only'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { CylinderFilter, CylinderStatus } from '@/lib/schemas/cylinder'
import { db } from './client'
import { asOneVessel, deliveredUKg, type SizeRow } from './contents'
import { monthStart } from './cylinders'
import {
  amount90,
  type CylinderRow,
  isPastDue,
  toCondition,
  toSide,
  toStatus,
  toVessel,
} from './cylinders-shown'
import { Prisma } from './generated/client'

const PAGE = 50

export type CylinderPage = Readonly<{
  cylinders: readonly CylinderRow[]
  next: string | null
  now: Date
}>

/** A cylinder with its size, area and outfit; the site's zone and the clock stand beside each. */
type ListedRow = Readonly<{
  id: string | null
  serial: string
  gasId: string
  status: string
  contentsKg: number | null
  contentsUKg: number | null
  lastReadingAt: Date | null
  dueMonth: Date | null
  side: string | null
  vessel: string
  holds: number
  condition: string
  sizeId: string
  sizeName: string
  nominalKg: number
  waterVolumeL: number | null
  fullGaugeKpa: number | null
  tareKg: number | null
  heelKg: number
  changeAtGaugeKpa: number | null
  areaName: string | null
  outfitNumber: string | null
  zone: string
  now: Date
}>

/** LIKE with what its own signs mean taken away: a serial's part is letters, never a pattern. */
const partly = (part: string) => `%${part.replaceAll(/[\\%_]/g, '\\$&')}%`

/**
 * One statement, since each costs a trip of its own: the site always answers with a row, so that an
 * empty list has its zone and its time too.
 */
function readPage(siteId: string, filter: CylinderFilter, most: number): Promise<ListedRow[]> {
  const of = [
    Prisma.sql`c.site_id = ${siteId}::uuid`,
    ...(filter.gas ? [Prisma.sql`c.gas_id = ${filter.gas}`] : []),
    ...(filter.status ? [Prisma.sql`c.status = ${filter.status}`] : []),
    ...(filter.part ? [Prisma.sql`c.serial LIKE ${partly(filter.part)}`] : []),
    ...(filter.after ? [Prisma.sql`c.serial > ${filter.after}`] : []),
  ]
  return db.$queryRaw<ListedRow[]>`
    SELECT c.id, c.serial, c.gas_id AS "gasId", c.status, c.contents_kg AS "contentsKg", c.contents_u_kg AS "contentsUKg",
           c.last_reading_at AS "lastReadingAt", c.due_month AS "dueMonth", c.side, c.vessel, c.holds, c.condition,
           z.id AS "sizeId", z.name AS "sizeName", z.nominal_kg AS "nominalKg", z.water_volume_l AS "waterVolumeL",
           z.full_gauge_kpa AS "fullGaugeKpa", z.tare_kg AS "tareKg", z.heel_kg AS "heelKg", z.change_at_gauge_kpa AS "changeAtGaugeKpa",
           a.name AS "areaName", o.number AS "outfitNumber", s.zone, (SELECT kerf_now()) AS now
    FROM sites s
    LEFT JOIN (SELECT * FROM cylinders c WHERE ${Prisma.join(of, ' AND ')} ORDER BY c.serial LIMIT ${most}) c ON true
    LEFT JOIN cylinder_sizes z ON z.id = c.size_id
    LEFT JOIN areas a ON a.id = c.area_id
    LEFT JOIN outfits o ON o.id = c.outfit_id
    WHERE s.id = ${siteId}::uuid
    ORDER BY c.serial`
}

function toRow(row: ListedRow & { id: string }, thisMonth: Date): CylinderRow {
  const size = asOneVessel(sizeIn(row), row.holds)
  return {
    id: row.id,
    serial: row.serial,
    gasId: row.gasId,
    sizeName: row.sizeName,
    nominalKg: size.nominalKg,
    status: toStatus(row.status),
    contents: amount90(row.contentsKg, row.contentsUKg ?? deliveredUKg(size)),
    lastReadingAt: row.lastReadingAt,
    dueMonth: row.dueMonth,
    isPastDue: isPastDue(row.dueMonth, thisMonth),
    areaName: row.areaName,
    outfitNumber: row.outfitNumber,
    side: toSide(row.side),
    vessel: toVessel(row.vessel),
    holds: row.holds,
    condition: toCondition(row.condition),
  }
}

const sizeIn = (row: ListedRow): SizeRow => ({
  id: row.sizeId,
  gasId: row.gasId,
  name: row.sizeName,
  nominalKg: row.nominalKg,
  waterVolumeL: row.waterVolumeL,
  fullGaugeKpa: row.fullGaugeKpa,
  tareKg: row.tareKg,
  heelKg: row.heelKg,
  changeAtGaugeKpa: row.changeAtGaugeKpa,
})

const isCylinder = (row: ListedRow): row is ListedRow & { id: string } => row.id !== null

/** Cylinders of a site by serial, a page after the serial in the filter. */
export async function listCylinders(
  viewer: Viewer,
  siteId: string,
  filter: CylinderFilter,
  page = PAGE,
): Promise<CylinderPage> {
  assertCan(viewer, 'cylinder:read', siteId)
  const rows = await readPage(siteId, filter, page + 1)
  const [first] = rows
  if (!first) throw new Error('a site that somebody holds a role on is not there')
  const thisMonth = monthStart(first.now, first.zone)
  const shown = rows.filter(isCylinder).slice(0, page)
  return {
    cylinders: shown.map((row) => toRow(row, thisMonth)),
    next: rows.length > page ? (shown.at(-1)?.serial ?? null) : null,
    now: first.now,
  }
}

export type CylinderCount = Readonly<{ gasId: string; status: CylinderStatus; count: number }>

/** How many of each gas and status a site has: what the filters offer. */
export async function countCylinders(viewer: Viewer, siteId: string): Promise<CylinderCount[]> {
  assertCan(viewer, 'cylinder:read', siteId)
  const groups = await db.$queryRaw<{ gas_id: string; status: string; count: number }[]>`
    SELECT gas_id, status, sum(cylinders)::int AS count FROM site_stock
    WHERE site_id = ${siteId}::uuid AND cylinders > 0 GROUP BY gas_id, status ORDER BY gas_id, status`
  return groups.map((group) => ({
    gasId: group.gas_id,
    status: toStatus(group.status),
    count: group.count,
  }))
}

import 'server-only'
import { type Action, can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { supplySizeOf } from '@/lib/calc/catalogue-size'
import { contentsFromReading } from '@/lib/calc/contents'
import type { Contents } from '@/lib/calc/contents-types'
import { AppError } from '@/lib/errors'
import { localDay } from '@/lib/format/local-time'
import { db } from './client'
import {
  asOneVessel,
  contentsOf,
  deliveredUKg,
  reserveOf,
  SIZE_COLUMNS,
  type SizeRow,
} from './contents'
import {
  amount90,
  type CylinderRow,
  isPastDue,
  toCondition,
  toSide,
  toStatus,
  toVessel,
} from './cylinders-shown'
import { type TestState, testStateOf } from './cylinders-test'

const ROW_COLUMNS = {
  id: true,
  serial: true,
  gasId: true,
  status: true,
  contentsKg: true,
  contentsUKg: true,
  lastReadingAt: true,
  dueMonth: true,
  areaId: true,
  side: true,
  vessel: true,
  holds: true,
  condition: true,
  size: { select: SIZE_COLUMNS },
  outfit: { select: { number: true } },
} as const

/** Today by the site's calendar, as the database keeps a day: its midnight in UTC. */
export const dayOf = (now: Date, zone: string): Date =>
  new Date(`${localDay(now, zone)}T00:00:00.000Z`)

/** The first day of this month by a calendar: a cylinder is past due once its month is over. */
export function monthStart(now: Date, zone: string): Date {
  return new Date(`${localDay(now, zone).slice(0, 7)}-01T00:00:00.000Z`)
}

async function namesOfAreas(ids: readonly (string | null)[]): Promise<Map<string, string>> {
  const wanted = [...new Set(ids.filter((id) => id !== null))]
  if (wanted.length === 0) return new Map()
  const areas = await db.area.findMany({
    where: { id: { in: wanted } },
    select: { id: true, name: true },
  })
  return new Map(areas.map((area) => [area.id, area.name]))
}

export async function readNow(): Promise<Date> {
  const [row] = await db.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`
  if (!row) throw new Error('the database told no time')
  return row.now
}

export type CylinderDetail = Omit<CylinderRow, 'sizeName' | 'nominalKg'> &
  Readonly<{
    size: SizeRow & { source: string }
    spec: string
    tareKg: number | null
    ownership: 'owned' | 'rented'
    supplierName: string | null
    requalifiedOn: Date | null
    madeMonth: Date | null
    serviceLifeEnds: Date | null
    testMethod: string | null
    isStarred: boolean
    batch: string | null
    /** The event that last told what is in it: what a correction may point at. */
    lastReadingId: string | null
    test: TestState | null
    mayReceive: boolean
    moveTo: readonly Readonly<{ id: string; name: string }>[]
    areas: readonly Readonly<{ id: string; name: string }>[]
    filledOn: Date | null
    arrivedAt: Date | null
    siteId: string | null
    siteName: string | null
    zone: string
    reserveKg: number
    changeAtGaugeKpa: number | null
    /** Where the contents come from; null when it was never read. */
    chain: Contents | null
    mayRead: boolean
    mayQuarantine: boolean
    mayMove: boolean
    now: Date
  }>

/** Cylinders at the viewer's sites, and those that left the company from one of them. */
export function cylinderScope(viewer: Viewer, id: string) {
  const siteIds = sitesWhere(viewer, 'cylinder:read')
  return {
    id,
    OR: [
      { siteId: { in: siteIds } },
      { siteId: null, events: { some: { siteId: { in: siteIds } } } },
    ],
  }
}

type LastReading = Readonly<{
  id: string
  kind: string
  gaugeKpa: number | null
  temperatureK: number | null
  weightKg: number | null
  markedEmpty: boolean
}>

/** Recomputes what the last reading meant, so that the number opens to its terms. */
function chainOf(last: LastReading | null, size: SizeRow, tareKg: number | null): Contents | null {
  if (!last || last.markedEmpty) return null
  if (last.gaugeKpa !== null && last.temperatureK !== null) {
    const outcome = contentsOf(
      { kind: 'gauge', gaugePressureKpa: last.gaugeKpa, temperatureK: last.temperatureK },
      size,
      tareKg,
    )
    return outcome.ok ? outcome : null
  }
  if (last.weightKg !== null) {
    const outcome = contentsOf({ kind: 'weight', grossKg: last.weightKg }, size, tareKg)
    return outcome.ok ? outcome : null
  }
  const calcSize = supplySizeOf(size)
  const outcome = calcSize ? contentsFromReading({ kind: 'asDelivered' }, calcSize) : null
  return outcome?.ok ? outcome : null
}

/** The newest event that says something about the contents. */
export async function findLastReading(cylinderId: string): Promise<LastReading | null> {
  return db.cylinderEvent.findFirst({
    where: {
      cylinderId,
      OR: [
        { contentsKg: { not: null } },
        { markedEmpty: true },
        { kind: { in: ['received', 'bought', 'rented_in', 'filled'] } },
      ],
    },
    orderBy: { seq: 'desc' },
    select: {
      id: true,
      kind: true,
      gaugeKpa: true,
      temperatureK: true,
      weightKg: true,
      markedEmpty: true,
    },
  })
}

const DETAIL_COLUMNS = {
  ...ROW_COLUMNS,
  spec: true,
  tareKg: true,
  ownership: true,
  supplierId: true,
  gasId: true,
  madeMonth: true,
  serviceLifeEnds: true,
  testMethod: true,
  isStarred: true,
  batch: true,
  requalifiedOn: true,
  filledOn: true,
  arrivedAt: true,
  siteId: true,
  size: { select: { ...SIZE_COLUMNS, source: true } },
} as const

/** One cylinder; one that stands at another site answers NOT_FOUND. */
export async function getCylinder(viewer: Viewer, cylinderId: string): Promise<CylinderDetail> {
  const found = await db.cylinder.findFirst({
    where: cylinderScope(viewer, cylinderId),
    select: DETAIL_COLUMNS,
  })
  if (!found) throw new AppError('NOT_FOUND')
  const { outfit, areaId, contentsKg, contentsUKg, status, side, supplierId, ...row } = found
  const size = asOneVessel(found.size, row.holds)
  const [site, areaNames, supplier, last, now, company, moveTo, areas, left] = await Promise.all([
    row.siteId
      ? db.site.findUnique({ where: { id: row.siteId }, select: { name: true, zone: true } })
      : null,
    namesOfAreas([areaId]),
    supplierId
      ? db.supplier.findUnique({ where: { id: supplierId }, select: { name: true } })
      : null,
    findLastReading(cylinderId),
    readNow(),
    db.company.findFirstOrThrow({ select: { zone: true } }),
    db.site.findMany({
      where: { id: { in: sitesWhere(viewer, 'cylinder:move') } },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
    row.siteId
      ? db.area.findMany({
          where: { siteId: row.siteId },
          orderBy: { name: 'asc' },
          select: { id: true, name: true },
        })
      : [],
    row.siteId
      ? null
      : db.cylinderEvent.findFirst({
          where: { cylinderId },
          orderBy: { seq: 'desc' },
          select: { siteId: true },
        }),
  ])
  const lastSiteId = left?.siteId ?? null
  const zone = site?.zone ?? company.zone
  const actsAt = row.siteId ?? lastSiteId
  const may = (action: Action, siteId = row.siteId) =>
    siteId !== null && can(viewer, action, siteId)
  return {
    ...row,
    size,
    status: toStatus(status),
    vessel: toVessel(row.vessel),
    condition: toCondition(row.condition),
    side: toSide(side),
    ownership: row.ownership === 'owned' ? 'owned' : 'rented',
    contents: amount90(contentsKg, contentsUKg ?? deliveredUKg(size)),
    isPastDue: isPastDue(row.dueMonth, monthStart(now, zone)),
    areaName: areaId ? (areaNames.get(areaId) ?? null) : null,
    outfitNumber: outfit?.number ?? null,
    supplierName: supplier?.name ?? null,
    siteName: site?.name ?? null,
    zone,
    ...reserveOf(size),
    chain: chainOf(last, size, row.tareKg),
    mayRead: may('cylinder:read-gauge'),
    mayQuarantine: may('cylinder:quarantine'),
    // What has left a site is still spoken for from there.
    mayMove: may('cylinder:move', actsAt),
    mayReceive: may('cylinder:receive', actsAt),
    lastReadingId: last?.id ?? null,
    test: testStateOf({ ...row, condition: toCondition(row.condition) }, localDay(now, zone)),
    moveTo,
    areas,
    now,
  }
}

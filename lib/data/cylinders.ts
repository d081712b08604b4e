import 'server-only'
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { type Action, assertCan, can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { supplySizeOf } from '@/lib/calc/catalogue-size'
import { contentsFromReading } from '@/lib/calc/contents'
import type { Contents } from '@/lib/calc/contents-types'
import { normalInterval } from '@/lib/calc/stats'
import { AppError } from '@/lib/errors'
import { localDay } from '@/lib/format/local-time'
import type { CylinderFilter, CylinderStatus } from '@/lib/schemas/cylinder'
import type { CONDITIONS, Vessel } from '@/lib/schemas/cylinder-life'
import { db } from './client'
import {
  asOneVessel,
  contentsOf,
  deliveredUKg,
  reserveOf,
  SIZE_COLUMNS,
  type SizeRow,
} from './contents'
import { type TestState, testStateOf } from './cylinders-test'

const PAGE = 50

export type Condition = 'sound' | (typeof CONDITIONS)[number]

export type Amount90 = Readonly<{
  kg: number
  low90Kg: number
  high90Kg: number
  /** Quantiles between them, for the teeth of a vessel. */
  p275Kg: number
  p725Kg: number
}>

/** Contents as the page shows them: never below nothing, never a bare number. */
export function amount90(contentsKg: number | null, contentsUKg: number): Amount90 | null {
  if (contentsKg === null) return null
  const { mean, low90, high90 } = normalInterval({
    mean: contentsKg,
    standardUncertainty: contentsUKg,
    min: 0,
  })
  const inner = normalQuantile(0.725, 0, 1) * contentsUKg
  return {
    kg: mean,
    low90Kg: low90,
    high90Kg: high90,
    p275Kg: Math.max(low90, mean - inner),
    p725Kg: mean + inner,
  }
}

export type CylinderRow = Readonly<{
  id: string
  serial: string
  gasId: string
  sizeName: string
  nominalKg: number
  status: CylinderStatus
  contents: Amount90 | null
  lastReadingAt: Date | null
  dueMonth: Date | null
  isPastDue: boolean
  areaName: string | null
  outfitNumber: string | null
  side: 'oxygen' | 'fuel' | null
  vessel: Vessel
  holds: number
  condition: Condition
}>

export type CylinderPage = Readonly<{
  cylinders: readonly CylinderRow[]
  next: string | null
  now: Date
}>

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

const toVessel = (vessel: string) => vessel as Vessel // as above
const toCondition = (condition: string) => condition as Condition // as above
const toStatus = (status: string) => status as CylinderStatus // a CHECK holds the column to these
const toSide = (side: string | null) => (side === 'oxygen' || side === 'fuel' ? side : null)

/** Today by the site's calendar, as the database keeps a day: its midnight in UTC. */
export const dayOf = (now: Date, zone: string): Date =>
  new Date(`${localDay(now, zone)}T00:00:00.000Z`)

/** The first day of this month by a calendar: a cylinder is past due once its month is over. */
export function monthStart(now: Date, zone: string): Date {
  const [year, month] = new Intl.DateTimeFormat('en-CA', {
    timeZone: zone,
    year: 'numeric',
    month: '2-digit',
  })
    .format(now)
    .split('-')
  return new Date(`${year}-${month}-01T00:00:00.000Z`)
}

const isPastDue = (dueMonth: Date | null, thisMonth: Date) =>
  dueMonth !== null && dueMonth < thisMonth

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

/** Cylinders of a site by serial, a page of fifty after the serial in the filter. */
export async function listCylinders(
  viewer: Viewer,
  siteId: string,
  filter: CylinderFilter,
): Promise<CylinderPage> {
  assertCan(viewer, 'cylinder:read', siteId)
  const where = {
    siteId,
    ...(filter.gas ? { gasId: filter.gas } : {}),
    ...(filter.status ? { status: filter.status } : {}),
    ...(filter.after || filter.part
      ? {
          serial: {
            ...(filter.after ? { gt: filter.after } : {}),
            ...(filter.part ? { contains: filter.part } : {}),
          },
        }
      : {}),
  }
  const [rows, site, now] = await Promise.all([
    db.cylinder.findMany({
      where,
      orderBy: { serial: 'asc' },
      take: PAGE + 1,
      select: ROW_COLUMNS,
    }),
    db.site.findUniqueOrThrow({ where: { id: siteId }, select: { zone: true } }),
    readNow(),
  ])
  const shown = rows.slice(0, PAGE)
  const areaNames = await namesOfAreas(shown.map((row) => row.areaId))
  const thisMonth = monthStart(now, site.zone)
  return {
    cylinders: shown.map(
      ({ size: one, outfit, areaId, contentsKg, contentsUKg, status, side, ...row }) => {
        const size = asOneVessel(one, row.holds)
        return {
          ...row,
          status: toStatus(status),
          vessel: toVessel(row.vessel),
          condition: toCondition(row.condition),
          side: toSide(side),
          sizeName: size.name,
          nominalKg: size.nominalKg,
          contents: amount90(contentsKg, contentsUKg ?? deliveredUKg(size)),
          isPastDue: isPastDue(row.dueMonth, thisMonth),
          areaName: areaId ? (areaNames.get(areaId) ?? null) : null,
          outfitNumber: outfit?.number ?? null,
        }
      },
    ),
    next: rows.length > PAGE ? (shown.at(-1)?.serial ?? null) : null,
    now,
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

import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { rentByDay } from '@/lib/calc/rent'
import { checkStatement, type StatementCheck } from '@/lib/calc/statement-check'
import { localDay } from '@/lib/format/local-time'
import type { RentTermsInput, StatementInput } from '@/lib/schemas/rent'
import { db } from './client'
import { once } from './client-keys'
import { readNow } from './cylinders'
import { readStays } from './rent-stays'
import { readTermsUntil, type TermsRow } from './rent-terms'
import { roleThen } from './role-then'
import { inTransaction } from './tx'

const DAY_MS = 86_400_000
const TOLERANCE_MINOR = 1
const MOST_IDLE = 100
/** Full and untouched this long, a rented one costs more than it is likely to save. House judgement, no source. */
const IDLE_DAYS = 45

export async function saveRentTerms(
  viewer: Viewer,
  input: RentTermsInput,
): Promise<{ termsId: string }> {
  const role = roleThen(viewer, 'order:confirm', input.siteId)
  return inTransaction(viewer, 'rent:terms', (tx) =>
    once(tx, viewer, { key: input.key, action: 'rent:terms', input }, async () => {
      const termsId = uuidv7()
      await tx.rentTerms.create({
        data: {
          id: termsId,
          siteId: input.siteId,
          supplierId: input.supplierId,
          sizeId: input.sizeId,
          freeDays: input.freeDays,
          rentMinorPerDay: input.rentPerDay,
          demurrageFromDay: input.demurrageFromDay ?? null,
          demurrageMinorPerDay: input.demurragePerDay ?? 0,
          depositMinor: input.deposit ?? 0,
          validFrom: input.validFrom,
          personId: viewer.personId,
          roleThen: role,
        },
        select: { id: true },
      })
      return { termsId }
    }),
  )
}

/** The days of a month, up to today where it is not over. */
function periodOf(month: Date, today: number) {
  const fromDay = month.getTime() / DAY_MS
  const end = Date.UTC(month.getUTCFullYear(), month.getUTCMonth() + 1, 1) / DAY_MS - 1
  return { fromDay, toDay: Math.max(fromDay, Math.min(end, today)) }
}

export type RentView = Readonly<{
  month: string
  currency: string
  terms: readonly (TermsRow & { sizeName: string; gasId: string })[]
  bySupplier: readonly Readonly<{
    supplierName: string
    cylinders: number
    days: number
    amountMinor: number
    unknown: number
  }>[]
  idle: readonly Readonly<{
    id: string
    serial: string
    gasId: string
    sizeName: string
    status: string
    days: number
  }>[]
  suppliers: readonly Readonly<{ id: string; name: string }>[]
  sizes: readonly Readonly<{ id: string; name: string; gasId: string }>[]
  mayWrite: boolean
}>

/** What a site's rented cylinders cost in a month, under whose terms, and which should go back. */
export async function getRent(viewer: Viewer, siteId: string, month: Date): Promise<RentView> {
  assertCan(viewer, 'order:read', siteId)
  const [site, company, now] = await Promise.all([
    db.site.findUniqueOrThrow({ where: { id: siteId }, select: { zone: true } }),
    db.company.findFirstOrThrow({ select: { currency: true } }),
    readNow(),
  ])
  const today = Date.parse(localDay(now, site.zone)) / DAY_MS
  const period = periodOf(month, today)
  const [stays, terms, suppliers, sizes, idle] = await Promise.all([
    readStays(siteId),
    readTermsUntil(siteId, period.toDay),
    db.supplier.findMany({ orderBy: { name: 'asc' }, take: 100, select: { id: true, name: true } }),
    db.cylinderSize.findMany({
      orderBy: { id: 'asc' },
      select: { id: true, name: true, gasId: true },
    }),
    db.$queryRaw<RentView['idle'][number][]>`
      SELECT c.id, c.serial, c.gas_id AS "gasId", z.name AS "sizeName", c.status,
             extract(day FROM ${now}::timestamptz - e.at)::int AS days
      FROM cylinders c JOIN cylinder_sizes z ON z.id = c.size_id
      JOIN cylinder_events e ON e.cylinder_id = c.id AND e.seq = c.last_seq
      WHERE c.site_id = ${siteId}::uuid AND c.ownership = 'rented'
        AND (c.status = 'empty' OR (c.status IN ('full', 'partial') AND e.at < ${now}::timestamptz - make_interval(days => ${IDLE_DAYS}::int)))
      ORDER BY c.status = 'empty' DESC, e.at LIMIT ${MOST_IDLE}`,
  ])
  const sizeOf = new Map(sizes.map((size) => [size.id, size]))
  const nameOf = new Map(suppliers.map((supplier) => [supplier.id, supplier.name]))
  const sums = new Map<string, RentView['bySupplier'][number]>()
  for (const stay of stays) {
    const charge = rentByDay(stay, terms.of(stay), period)
    if (charge.days === 0) continue
    const supplierName = nameOf.get(stay.supplierId ?? '') ?? ''
    const sum = sums.get(supplierName) ?? {
      supplierName,
      cylinders: 0,
      days: 0,
      amountMinor: 0,
      unknown: 0,
    }
    sums.set(supplierName, {
      ...sum,
      cylinders: sum.cylinders + 1,
      days: sum.days + charge.days,
      amountMinor: sum.amountMinor + charge.amountMinor,
      unknown: sum.unknown + (charge.unknownDays === 0 ? 0 : 1),
    })
  }
  return {
    month: month.toISOString().slice(0, 7),
    currency: company.currency,
    terms: terms.within(period.fromDay, period.toDay).map((row) => ({
      ...row,
      sizeName: sizeOf.get(row.sizeId)?.name ?? row.sizeId,
      gasId: sizeOf.get(row.sizeId)?.gasId ?? '',
    })),
    bySupplier: [...sums.values()],
    idle,
    suppliers,
    sizes,
    mayWrite: can(viewer, 'order:confirm', siteId),
  }
}

export type CheckedStatement = StatementCheck & Readonly<{ currency: string }>

/** A supplier's statement of a month beside the record. It changes nothing. */
export async function checkRentStatement(
  viewer: Viewer,
  input: StatementInput,
): Promise<CheckedStatement> {
  assertCan(viewer, 'order:confirm', input.siteId)
  const [site, company, now] = await Promise.all([
    db.site.findUniqueOrThrow({ where: { id: input.siteId }, select: { zone: true } }),
    db.company.findFirstOrThrow({ select: { currency: true } }),
    readNow(),
  ])
  const today = Date.parse(localDay(now, site.zone)) / DAY_MS
  const period = periodOf(input.month, today)
  const [stays, terms, ours] = await Promise.all([
    readStays(input.siteId),
    readTermsUntil(input.siteId, period.toDay),
    db.cylinder.findMany({
      where: { serial: { in: input.rows.map((row) => row.serial) } },
      select: { serial: true },
    }),
  ])
  const isOurs = new Set(ours.map((row) => row.serial))
  const checked = checkStatement({
    rows: input.rows,
    stays: stays.filter((stay) => stay.supplierId === input.supplierId),
    isOurs: (serial) => isOurs.has(serial),
    termsOf: (sizeId) => terms.of({ supplierId: input.supplierId, sizeId }),
    period,
    toleranceMinor: TOLERANCE_MINOR,
  })
  return { ...checked, currency: company.currency }
}

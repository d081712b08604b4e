import 'server-only'
import { AppError } from '@/lib/errors'
import { db } from './client'
import type { OrderCover } from './forecast'

export type SupplierChoice = Readonly<{
  id: string
  name: string
  leadDays: number
  deliveryFeeMinor: number
  prices: readonly SizePrice[]
}>

export type SizePrice = Readonly<{
  sizeId: string
  sizeName: string
  gasId: string
  fillMinor: number
  currency: string
}>

/** Where no supplier is known: what is proposed should last two weeks and a truck more. */
const MOST_LEAD_DAYS = 14
/** Nobody plans gas farther ahead than this; a supplier's slip of the pen must not stop the page. */
const FARTHEST_DAYS = 60

const DAY_MS = 86_400_000
export const dayAfter = (day: string, days: number) =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10)
const daysBetween = (from: string, to: string) => (Date.parse(to) - Date.parse(from)) / DAY_MS
const isoWeekday = (day: string) => new Date(`${day}T00:00:00Z`).getUTCDay() || 7

/** The next delivery day of the site that leaves the supplier its lead time. */
export function nextTruck(
  today: string,
  leadDays: number,
  deliveryDays: readonly number[],
): string {
  const first = dayAfter(today, leadDays)
  const days = Array.from({ length: 7 }, (_, index) => dayAfter(first, index))
  return days.find((day) => deliveryDays.includes(isoWeekday(day))) ?? first
}

type SiteDay = Awaited<ReturnType<typeof readToday>>

/** An order for the supplier's next truck must last until the truck after that one. */
export function coverOf({ today, delivery_days }: SiteDay, leadDays: number): OrderCover {
  const truck = nextTruck(today, leadDays, delivery_days)
  const after =
    delivery_days.length > 0 ? nextTruck(dayAfter(truck, 1), 0, delivery_days) : dayAfter(truck, 7)
  return {
    leadDays: Math.min(daysBetween(today, truck), FARTHEST_DAYS),
    reviewDays: daysBetween(truck, after),
  }
}

export const soonestLead = (suppliers: readonly SupplierChoice[]) =>
  Math.min(...suppliers.map((supplier) => supplier.leadDays), MOST_LEAD_DAYS)

/** A supplier as it is agreed on with a site: its lead time and fee; its own where nothing was agreed. */
export const agreedOf = (
  supplier: SupplierChoice,
  agreement: Readonly<{ leadDays: number; feeMinor: number }> | undefined,
): SupplierChoice =>
  agreement
    ? { ...supplier, leadDays: agreement.leadDays, deliveryFeeMinor: agreement.feeMinor }
    : supplier

interface SupplierRow {
  id: string
  name: string
  lead_days: number
  delivery_fee_minor: number
  prices: SizePrice[]
}

/** Suppliers with the prices that hold today. */
export async function readSuppliers(): Promise<SupplierChoice[]> {
  const rows = await db.$queryRaw<SupplierRow[]>`
    SELECT s.id, s.name, s.lead_days, s.delivery_fee_minor,
           coalesce(jsonb_agg(jsonb_build_object('sizeId', p.size_id, 'sizeName', z.name, 'gasId', z.gas_id,
                                                 'fillMinor', p.fill_minor, 'currency', p.currency)
                              ORDER BY p.size_id) FILTER (WHERE p.size_id IS NOT NULL), '[]') AS prices
    FROM suppliers s
    LEFT JOIN LATERAL (
      SELECT DISTINCT ON (size_id) size_id, fill_minor, currency FROM prices
      WHERE supplier_id = s.id AND valid_from <= kerf_now()::date AND (valid_until IS NULL OR valid_until >= kerf_now()::date)
      ORDER BY size_id, valid_from DESC) p ON true
    LEFT JOIN cylinder_sizes z ON z.id = p.size_id
    GROUP BY s.id ORDER BY s.name LIMIT 50`
  return rows.map((row) => ({
    id: row.id,
    name: row.name,
    leadDays: row.lead_days,
    deliveryFeeMinor: row.delivery_fee_minor,
    prices: row.prices,
  }))
}

/** The day at the site, and its supplier's truck days. */
export async function readToday(siteId: string) {
  const [row] = await db.$queryRaw<{ now: Date; today: string; delivery_days: number[] }[]>`
    SELECT kerf_now() AS now, to_char(kerf_now() AT TIME ZONE zone, 'YYYY-MM-DD') AS today, delivery_days
    FROM sites WHERE id = ${siteId}::uuid`
  if (!row) throw new AppError('NOT_FOUND')
  return row
}

const SHOWN_ORDERS = 25

export type OrderRow = Readonly<{
  id: string
  number: string
  state: string
  version: number
  dueOn: Date
  supplierName: string
  lines: readonly Readonly<{ sizeName: string; quantity: number }>[]
}>

/** A site's latest orders with what was ordered, in one statement. */
export function readOrders(siteId: string): Promise<OrderRow[]> {
  return db.$queryRaw<OrderRow[]>`
    SELECT o.id, o.number, o.state, o.version, o.due_on AS "dueOn", s.name AS "supplierName",
           (SELECT coalesce(jsonb_agg(jsonb_build_object('sizeName', z.name, 'quantity', l.quantity) ORDER BY z.id), '[]')
            FROM order_lines l JOIN cylinder_sizes z ON z.id = l.size_id WHERE l.order_id = o.id) AS lines
    FROM orders o JOIN suppliers s ON s.id = o.supplier_id
    WHERE o.site_id = ${siteId}::uuid
    ORDER BY o.confirmed_at DESC, o.id DESC LIMIT ${SHOWN_ORDERS}`
}

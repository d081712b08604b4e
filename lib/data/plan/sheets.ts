import 'server-only'
import { sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { db } from '../client'

export type SheetOrder = Readonly<{
  id: string
  siteId: string
  number: string
  dueOn: string
  siteName: string
  address: string
  confirmedBy: string
  lines: readonly Readonly<{
    quantity: number
    gasId: string
    sizeName: string
    fillMinor: number
  }>[]
}>
export type OrderSheet = Readonly<{
  supplierName: string
  companyName: string
  currency: string
  printedOn: string
  orders: readonly SheetOrder[]
}>

const MOST_ORDERS = 100

export type SheetSupplier = Readonly<{
  id: string
  name: string
  orders: number
  /** Where order sheets are mailed to; null where nobody said. */
  email: string | null
}>

/** Suppliers with orders that have not come, on the viewer's sites. */
export function listSheetSuppliers(viewer: Viewer) {
  const siteIds = sitesWhere(viewer, 'order:read')
  return db.$queryRaw<SheetSupplier[]>`
    SELECT s.id, s.name, s.order_email AS email, count(*)::int AS orders FROM orders o JOIN suppliers s ON s.id = o.supplier_id
    WHERE o.state = 'confirmed' AND o.site_id = ANY(${siteIds}::uuid[]) GROUP BY s.id ORDER BY s.name`
}

/**
 * What is ordered from one supplier and has not come, for all the viewer's sites.
 *
 * @throws {AppError} NOT_FOUND where none of these sites ever ordered from it
 */
export async function getOrderSheet(
  viewer: Viewer,
  supplierId: string,
  action: 'order:read' | 'order:confirm' = 'order:read',
): Promise<OrderSheet> {
  const siteIds = sitesWhere(viewer, action)
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action })
  const [head] = await db.$queryRaw<
    { supplier: string; company: string; currency: string; today: string }[]
  >`SELECT s.name AS supplier, c.name AS company, c.currency, to_char(kerf_now() AT TIME ZONE c.zone, 'YYYY-MM-DD') AS today
    FROM suppliers s CROSS JOIN (SELECT * FROM company LIMIT 1) c WHERE s.id = ${supplierId}::uuid
      AND EXISTS (SELECT 1 FROM orders o WHERE o.supplier_id = s.id AND o.site_id = ANY(${siteIds}::uuid[]))`
  if (!head) throw new AppError('NOT_FOUND')
  const orders = await db.$queryRaw<SheetOrder[]>`
    SELECT o.id, o.site_id AS "siteId", o.number, to_char(o.due_on, 'YYYY-MM-DD') AS "dueOn", t.name AS "siteName", t.address, p.name AS "confirmedBy",
           (SELECT coalesce(jsonb_agg(jsonb_build_object('quantity', l.quantity, 'gasId', z.gas_id, 'sizeName', z.name, 'fillMinor', l.fill_minor) ORDER BY z.id), '[]')
            FROM order_lines l JOIN cylinder_sizes z ON z.id = l.size_id WHERE l.order_id = o.id) AS lines
    FROM orders o JOIN sites t ON t.id = o.site_id JOIN people p ON p.id = o.confirmed_by
    WHERE o.supplier_id = ${supplierId}::uuid AND o.state = 'confirmed' AND o.site_id = ANY(${siteIds}::uuid[])
    ORDER BY o.due_on, t.name, o.number LIMIT ${MOST_ORDERS}`
  return {
    supplierName: head.supplier,
    companyName: head.company,
    currency: head.currency,
    printedOn: head.today,
    orders,
  }
}

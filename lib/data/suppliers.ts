import 'server-only'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { QuantityBreak } from '@/lib/schemas/supplier'
import { db } from './client'

export type AgreementRow = Readonly<{
  supplierId: string
  leadDays: number
  deliveryDays: readonly number[]
  leastCylinders: number
  mostCylinders: number | null
  deliveryFeeMinor: number
  breaks: readonly QuantityBreak[]
  validFrom: Date
}>

/** What each supplier and a site have agreed on, as it holds today; the newest row of each counts. */
export function readAgreements(siteId: string): Promise<AgreementRow[]> {
  return db.$queryRaw<AgreementRow[]>`
    SELECT DISTINCT ON (a.supplier_id) a.supplier_id AS "supplierId", a.lead_days AS "leadDays", coalesce(a.delivery_days, '{}') AS "deliveryDays",
           a.least_cylinders AS "leastCylinders", a.most_cylinders AS "mostCylinders", a.delivery_fee_minor AS "deliveryFeeMinor",
           a.breaks, a.valid_from AS "validFrom"
    FROM supply_agreements a
    WHERE a.site_id = ${siteId}::uuid AND a.valid_from <= kerf_site_day(${siteId}::uuid, kerf_now())
    ORDER BY a.supplier_id, a.valid_from DESC, a.at DESC`
}

export type SupplierRow = Readonly<{
  id: string
  name: string
  leadDays: number
  orderEmail: string | null
  deliveryFeeMinor: number
  agreement: AgreementRow | null
  prices: readonly Readonly<{
    sizeId: string
    sizeName: string
    gasId: string
    fillMinor: number
    validFrom: string
  }>[]
}>

export type SuppliersPage = Readonly<{
  currency: string
  suppliers: readonly SupplierRow[]
  sizes: readonly Readonly<{ id: string; name: string; gasId: string }>[]
  mayWrite: boolean
}>

type Priced = Readonly<{ supplierId: string } & SupplierRow['prices'][number]>

const MOST_SUPPLIERS = 100

/** The company's suppliers with what they ask and what they agreed with a site. */
export async function listSuppliers(viewer: Viewer, siteId: string): Promise<SuppliersPage> {
  assertCan(viewer, 'order:read', siteId)
  const [company, suppliers, agreements, prices, sizes] = await Promise.all([
    db.company.findFirstOrThrow({ select: { currency: true } }),
    db.supplier.findMany({
      orderBy: { name: 'asc' },
      take: MOST_SUPPLIERS,
      select: { id: true, name: true, leadDays: true, orderEmail: true, deliveryFeeMinor: true },
    }),
    readAgreements(siteId),
    db.$queryRaw<Priced[]>`
      SELECT DISTINCT ON (p.supplier_id, p.size_id) p.supplier_id AS "supplierId", p.size_id AS "sizeId", z.name AS "sizeName", z.gas_id AS "gasId",
             p.fill_minor AS "fillMinor", to_char(p.valid_from, 'YYYY-MM-DD') AS "validFrom"
      FROM prices p JOIN cylinder_sizes z ON z.id = p.size_id
      WHERE p.valid_from <= kerf_now()::date AND (p.valid_until IS NULL OR p.valid_until >= kerf_now()::date)
      ORDER BY p.supplier_id, p.size_id, p.valid_from DESC`,
    db.cylinderSize.findMany({
      orderBy: { id: 'asc' },
      select: { id: true, name: true, gasId: true },
    }),
  ])
  return {
    currency: company.currency,
    suppliers: suppliers.map((supplier) => ({
      ...supplier,
      agreement: agreements.find((one) => one.supplierId === supplier.id) ?? null,
      prices: prices.filter((one) => one.supplierId === supplier.id),
    })),
    sizes,
    mayWrite: can(viewer, 'order:confirm', siteId),
  }
}

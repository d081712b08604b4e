import 'server-only'
import { z } from 'zod'
import { db } from './client'

const breaksSchema = z.array(z.object({ from: z.number(), offMinor: z.number() }))
export type Agreement = Readonly<{
  siteId: string
  supplierId: string
  leadDays: number
  /** Empty: the site's own. */
  deliveryDays: readonly number[]
  least: number
  most: number | null
  feeMinor: number
  breaks: readonly Readonly<{ from: number; off: number }>[]
}>

/** What each site and supplier last agreed on. */
export async function readAgreements(siteIds: readonly string[]): Promise<Agreement[]> {
  const rows = await db.$queryRaw<(Omit<Agreement, 'breaks'> & { breaks: unknown })[]>`
    SELECT DISTINCT ON (site_id, supplier_id) site_id AS "siteId", supplier_id AS "supplierId", lead_days AS "leadDays",
           coalesce(delivery_days, '{}') AS "deliveryDays", least_cylinders AS least, most_cylinders AS most,
           delivery_fee_minor AS "feeMinor", breaks
    FROM supply_agreements WHERE site_id = ANY(${siteIds}::uuid[]) AND valid_from <= kerf_now()::date
    ORDER BY site_id, supplier_id, valid_from DESC, at DESC`
  return rows.map(({ breaks, ...agreed }) => ({
    ...agreed,
    breaks: breaksSchema
      .parse(breaks)
      .map(({ from, offMinor }) => ({ from, off: offMinor }))
      .toSorted((a, b) => a.from - b.from),
  }))
}

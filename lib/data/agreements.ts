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

type AgreementRow = Omit<Agreement, 'breaks'> & { breaks: unknown }

const withBreaks = ({ breaks, ...agreed }: AgreementRow): Agreement => ({
  ...agreed,
  breaks: breaksSchema
    .parse(breaks)
    .map(({ from, offMinor }) => ({ from, off: offMinor }))
    .toSorted((a, b) => a.from - b.from),
})

/** What each site and supplier last agreed on. */
export async function readAgreements(siteIds: readonly string[]): Promise<Agreement[]> {
  const rows = await db.$queryRaw<AgreementRow[]>`
    SELECT DISTINCT ON (site_id, supplier_id) site_id AS "siteId", supplier_id AS "supplierId", lead_days AS "leadDays",
           coalesce(delivery_days, '{}') AS "deliveryDays", least_cylinders AS least, most_cylinders AS most,
           delivery_fee_minor AS "feeMinor", breaks
    FROM supply_agreements WHERE site_id = ANY(${siteIds}::uuid[]) AND valid_from <= kerf_now()::date
    ORDER BY site_id, supplier_id, valid_from DESC, at DESC`
  return rows.map(withBreaks)
}

const DAY_MS = 86_400_000

/** What a site and a supplier had agreed on for a day, counted from 1970-01-01; null before any agreement. */
export async function readAgreementOn(
  of: Readonly<{ siteId: string; supplierId: string; day: number }>,
): Promise<Agreement | null> {
  const [row] = await db.$queryRaw<AgreementRow[]>`
    SELECT site_id AS "siteId", supplier_id AS "supplierId", lead_days AS "leadDays", coalesce(delivery_days, '{}') AS "deliveryDays",
           least_cylinders AS least, most_cylinders AS most, delivery_fee_minor AS "feeMinor", breaks
    FROM supply_agreements WHERE site_id = ${of.siteId}::uuid AND supplier_id = ${of.supplierId}::uuid
      AND valid_from <= ${new Date(of.day * DAY_MS)}::date
    ORDER BY valid_from DESC, at DESC LIMIT 1`
  return row ? withBreaks(row) : null
}

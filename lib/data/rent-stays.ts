import 'server-only'
import { type PlaceEntry, type SuppliedStay, staysOf } from '@/lib/calc/rent-stays'
import { db } from './client'

/** Stays of the site's rented cylinders, or of these alone. */
export async function readStays(
  siteId: string,
  only: readonly string[] | null = null,
): Promise<SuppliedStay[]> {
  const mine = only === null ? null : [...only]
  const entries = await db.$queryRaw<PlaceEntry[]>`
    SELECT e.cylinder_id AS "cylinderId", c.serial, c.size_id AS "sizeId", c.supplier_id AS "supplierId", e.kind,
           e.site_id AS "siteId", e.to_site_id AS "toSiteId", (e.at AT TIME ZONE s.zone)::date - DATE '1970-01-01' AS day
    FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id
    JOIN sites s ON s.id = CASE WHEN e.kind = 'moved' THEN coalesce(e.to_site_id, e.site_id) ELSE e.site_id END
    WHERE c.ownership = 'rented' AND (${mine}::uuid[] IS NULL OR c.id = ANY(${mine}::uuid[]))
      AND e.kind IN ('received', 'bought', 'rented_in', 'unloaded', 'found', 'found_on', 'moved', 'returned', 'sent_for_test', 'lost', 'scrapped')
      AND EXISTS (SELECT 1 FROM cylinder_events x WHERE x.cylinder_id = e.cylinder_id AND (x.site_id = ${siteId}::uuid OR x.to_site_id = ${siteId}::uuid))
    ORDER BY e.cylinder_id, e.seq`
  return staysOf(entries, siteId)
}

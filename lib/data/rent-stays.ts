import 'server-only'
import type { Stay } from '@/lib/calc/rent'
import { localDay } from '@/lib/format/local-time'
import { db } from './client'

const DAY_MS = 86_400_000

type PlaceRow = Readonly<{
  cylinder_id: string
  serial: string
  size_id: string
  supplier_id: string | null
  kind: string
  site_id: string
  to_site_id: string | null
  at: Date
}>

const ARRIVES: ReadonlySet<string> = new Set([
  'received',
  'bought',
  'rented_in',
  'unloaded',
  'found',
  'found_on',
])
/** After these it is with the supplier, or nowhere; what comes after begins anew. */
const LEAVES: ReadonlySet<string> = new Set(['returned', 'sent_for_test', 'lost', 'scrapped'])

export type SuppliedStay = Stay & Readonly<{ cylinderId: string; supplierId: string | null }>

/**
 * Stays at a site, from the events that move a cylinder, in order of cylinder and time. A supplier's days
 * run on while it goes from one site of the company to another.
 */
export function staysOf(rows: readonly PlaceRow[], siteId: string, zone: string): SuppliedStay[] {
  const dayOf = (at: Date) => Date.parse(localDay(at, zone)) / DAY_MS
  const stays: SuppliedStay[] = []
  const open = new Map<string, SuppliedStay>()
  const sinceDay = new Map<string, number>()
  for (const row of rows) {
    const { cylinder_id: cylinderId } = row
    const day = dayOf(row.at)
    if (LEAVES.has(row.kind)) sinceDay.delete(cylinderId)
    else if (!sinceDay.has(cylinderId)) sinceDay.set(cylinderId, day)
    const arrivesAt = ARRIVES.has(row.kind)
      ? row.site_id
      : row.kind === 'moved'
        ? (row.to_site_id ?? row.site_id)
        : null
    const here = open.get(cylinderId)
    if (here && arrivesAt !== siteId) {
      stays.push({ ...here, toDay: day })
      open.delete(cylinderId)
    } else if (!here && arrivesAt === siteId) {
      open.set(cylinderId, {
        cylinderId,
        serial: row.serial,
        sizeId: row.size_id,
        supplierId: row.supplier_id,
        rentFromDay: sinceDay.get(cylinderId) ?? day,
        fromDay: day,
        toDay: null,
      })
    }
  }
  return [...stays, ...open.values()]
}

/** Stays of the site's rented cylinders, or of these alone. */
export async function readStays(
  siteId: string,
  zone: string,
  only: readonly string[] | null = null,
): Promise<SuppliedStay[]> {
  const mine = only === null ? null : [...only]
  const rows = await db.$queryRaw<PlaceRow[]>`
    SELECT e.cylinder_id, c.serial, c.size_id, c.supplier_id, e.kind, e.site_id, e.to_site_id, e.at
    FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id
    WHERE c.ownership = 'rented' AND (${mine}::uuid[] IS NULL OR c.id = ANY(${mine}::uuid[]))
      AND e.kind IN ('received', 'bought', 'rented_in', 'unloaded', 'found', 'found_on', 'moved', 'returned', 'sent_for_test', 'lost', 'scrapped')
      AND EXISTS (SELECT 1 FROM cylinder_events x WHERE x.cylinder_id = e.cylinder_id AND (x.site_id = ${siteId}::uuid OR x.to_site_id = ${siteId}::uuid))
    ORDER BY e.cylinder_id, e.seq`
  return staysOf(rows, siteId, zone)
}

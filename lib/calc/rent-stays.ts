import type { Stay } from './rent'

/** An entry that moves a rented cylinder. */
export type PlaceEntry = Readonly<{
  cylinderId: string
  serial: string
  sizeId: string
  supplierId: string | null
  kind: string
  siteId: string
  toSiteId: string | null
  /** By the calendar of the site where it then was, from 1970-01-01. */
  day: number
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

/** Where it stands after the entry; null: at no site. */
function standsAt({ kind, siteId, toSiteId }: PlaceEntry): string | null {
  if (ARRIVES.has(kind)) return siteId
  return kind === 'moved' ? (toSiteId ?? siteId) : null
}

/**
 * Stays at a site. A supplier's days run on while a cylinder goes from one site of the company to another,
 * and every day is one site's: the day of a transfer is that of the site where it arrives, by the calendar
 * there. The day it goes back to the supplier is still its last here.
 *
 * @param entries of cylinders, each cylinder's in order of time
 * @returns stays of the site, those that are over first; both ends of each count
 * @source which site pays for the day of a transfer: house rule, no source
 */
export function staysOf(entries: readonly PlaceEntry[], siteId: string): SuppliedStay[] {
  const stays: SuppliedStay[] = []
  const open = new Map<string, SuppliedStay>()
  const sinceDay = new Map<string, number>()
  const lastDay = new Map<string, number>()
  for (const entry of entries) {
    const { cylinderId, serial, sizeId, supplierId } = entry
    // A site to the west may still have yesterday: no day begins before the one that was counted last.
    const day = Math.max(entry.day, lastDay.get(cylinderId) ?? Number.NEGATIVE_INFINITY)
    lastDay.set(cylinderId, day)
    if (LEAVES.has(entry.kind)) sinceDay.delete(cylinderId)
    else if (!sinceDay.has(cylinderId)) sinceDay.set(cylinderId, day)
    const at = standsAt(entry)
    const here = open.get(cylinderId)
    if (here && at !== siteId) {
      const toDay = at === null ? day : day - 1
      if (toDay >= here.fromDay) stays.push({ ...here, toDay })
      open.delete(cylinderId)
    } else if (!here && at === siteId) {
      const rentFromDay = sinceDay.get(cylinderId) ?? day
      const stay = {
        cylinderId,
        serial,
        sizeId,
        supplierId,
        rentFromDay,
        fromDay: day,
        toDay: null,
      }
      open.set(cylinderId, stay)
    }
  }
  return [...stays, ...open.values()]
}

import 'server-only'
import type { DatedTerms } from '@/lib/calc/rent'
import { db } from './client'

const DAY_MS = 86_400_000

export type TermsRow = DatedTerms &
  Readonly<{
    id: string
    supplierId: string
    supplierName: string
    sizeId: string
    depositMinor: number
    validFrom: Date
  }>

type Rented = Readonly<{ supplierId: string | null; sizeId: string }>

/** A site's terms as they followed on each other. */
export type TermsBook = Readonly<{
  of: (one: Rented) => readonly TermsRow[]
  /** What holds on a day; null before any terms. */
  on: (one: Rented, day: number) => TermsRow | null
  /** All that price some day from one to another. */
  within: (fromDay: number, toDay: number) => readonly TermsRow[]
}>

const nameOf = ({ supplierId, sizeId }: Rented) => `${supplierId} ${sizeId}`

/** Rows of one supplier and size, in order of their first days. */
function pricing(rows: readonly TermsRow[], fromDay: number, toDay: number): TermsRow[] {
  return rows.filter(
    (row, at) =>
      row.validFromDay <= toDay &&
      (rows[at + 1]?.validFromDay ?? Number.POSITIVE_INFINITY) > fromDay,
  )
}

/** All terms up to a day. What was entered again for the same first day replaces what was entered before. */
export async function readTermsUntil(siteId: string, day: number): Promise<TermsBook> {
  const rows = await db.$queryRaw<TermsRow[]>`
    SELECT DISTINCT ON (t.supplier_id, t.size_id, t.valid_from) t.id, t.supplier_id AS "supplierId", s.name AS "supplierName",
           t.size_id AS "sizeId", t.free_days AS "freeDays", t.rent_minor_per_day AS "rentMinorPerDay",
           t.demurrage_from_day AS "demurrageFromDay", t.demurrage_minor_per_day AS "demurrageMinorPerDay",
           t.deposit_minor AS "depositMinor", t.valid_from AS "validFrom", t.valid_from - DATE '1970-01-01' AS "validFromDay"
    FROM rent_terms t JOIN suppliers s ON s.id = t.supplier_id
    WHERE t.site_id = ${siteId}::uuid AND t.valid_from <= ${new Date(day * DAY_MS)}::date
    ORDER BY t.supplier_id, t.size_id, t.valid_from, t.at DESC`
  const book = new Map<string, TermsRow[]>()
  for (const row of rows) book.set(nameOf(row), [...(book.get(nameOf(row)) ?? []), row])
  const of = (one: Rented) => book.get(nameOf(one)) ?? []
  return {
    of,
    on: (one, asked) => pricing(of(one), asked, asked)[0] ?? null,
    within: (fromDay, toDay) => [...book.values()].flatMap((own) => pricing(own, fromDay, toDay)),
  }
}

import 'server-only'
import { supplySizeOf } from '@/lib/calc/catalogue-size'
import type { SupplySize } from '@/lib/calc/estimate-types'
import { db } from './client'
import { deliveredUKg, type ReserveOfSize, reserveOf, SIZE_COLUMNS, type SizeRow } from './contents'
import type { Tx } from './tx'

type PriceRow = Readonly<{ sizeId: string; fillMinor: number; currency: string }>
type OnHandRow = Readonly<{ gas_id: string; cylinders: number; usable_kg: number; u_kg: number }>

export type OnHand = Readonly<{ cylinders: number; usableKg: number; uKg: number }>
const NOTHING: OnHand = { cylinders: 0, usableKg: 0, uKg: 0 }

/** What a site can use now, and what it would order: read once a page, for all its jobs. */
export type SiteSupply = Readonly<{
  onHand: (gasId: string) => OnHand
  sizeFor: (gasId: string) => SizeRow | null
  priceOf: (sizeId: string) => PriceRow | null
  currency: string
}>

/** Cylinders that hold gas which may be used, by gas, above what is left in at change. */
async function readOnHand(
  client: Tx,
  siteId: string,
  sizes: readonly SizeRow[],
): Promise<OnHandRow[]> {
  const reserves = sizes.map((size) => ({
    size_id: size.id,
    kg: reserveOf(size).reserveKg,
    u: deliveredUKg(size),
  }))
  return client.$queryRaw<OnHandRow[]>`
    SELECT c.gas_id,
           count(*)::int AS cylinders,
           coalesce(sum(greatest(0, c.contents_kg - r.kg)), 0)::float8 AS usable_kg,
           coalesce(sqrt(sum(power(coalesce(c.contents_u_kg, r.u), 2))), 0)::float8 AS u_kg
    FROM cylinders c
    JOIN jsonb_to_recordset(${JSON.stringify(reserves)}::jsonb) AS r(size_id text, kg float8, u float8) ON r.size_id = c.size_id
    WHERE c.site_id = ${siteId}::uuid AND c.status IN ('full', 'partial', 'in_use')
    GROUP BY c.gas_id`
}

/** The size that a site has most of; one that has a price where it has none. */
function chooseSize(
  sizes: readonly SizeRow[],
  counts: ReadonlyMap<string, number>,
  prices: ReadonlyMap<string, PriceRow>,
) {
  const rank = (size: SizeRow) => (counts.get(size.id) ?? 0) * 2 + (prices.has(size.id) ? 1 : 0)
  return sizes.reduce<SizeRow | null>(
    (best, size) => (best && rank(best) >= rank(size) ? best : size),
    null,
  )
}

export async function readSiteSupply(siteId: string, client: Tx = db): Promise<SiteSupply> {
  const [sizes, counted, priced, company] = await Promise.all([
    client.cylinderSize.findMany({ select: SIZE_COLUMNS, orderBy: { id: 'asc' } }),
    client.cylinder.groupBy({ by: ['sizeId'], where: { siteId }, _count: { _all: true } }),
    client.$queryRaw<PriceRow[]>`
      SELECT DISTINCT ON (size_id) size_id AS "sizeId", fill_minor AS "fillMinor", currency
      FROM prices
      WHERE valid_from <= kerf_now()::date AND (valid_until IS NULL OR valid_until >= kerf_now()::date)
      ORDER BY size_id, fill_minor`,
    client.company.findFirstOrThrow({ select: { currency: true } }),
  ])
  const onHandRows = await readOnHand(client, siteId, sizes)
  const counts = new Map(counted.map((row) => [row.sizeId, row._count._all]))
  const prices = new Map(priced.map((row) => [row.sizeId, row]))
  const byGas = new Map(
    onHandRows.map((row) => [
      row.gas_id,
      { cylinders: row.cylinders, usableKg: row.usable_kg, uKg: row.u_kg },
    ]),
  )
  return {
    onHand: (gasId) => byGas.get(gasId) ?? NOTHING,
    sizeFor: (gasId) =>
      chooseSize(
        sizes.filter((size) => size.gasId === gasId),
        counts,
        prices,
      ),
    priceOf: (sizeId) => prices.get(sizeId) ?? null,
    currency: company.currency,
  }
}

export type SupplyChoice = Readonly<{
  row: SizeRow
  size: SupplySize
  reserve: ReserveOfSize
  fillMinor: number | null
}>

/** The size that is counted with for a gas, or null when the company has none. */
export function supplyChoice(supply: SiteSupply, gasId: string): SupplyChoice | null {
  const row = supply.sizeFor(gasId)
  const size = row ? supplySizeOf(row) : null
  if (!row || !size) return null
  const price = supply.priceOf(row.id)
  return {
    row,
    size,
    reserve: reserveOf(row),
    fillMinor: price && price.currency === supply.currency ? price.fillMinor : null,
  }
}

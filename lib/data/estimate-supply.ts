import 'server-only'
import { supplySizeOf } from '@/lib/calc/catalogue-size'
import type { SupplySize } from '@/lib/calc/estimate-types'
import { db } from './client'
import { deliveredUKg, type ReserveOfSize, reserveOf, SIZE_COLUMNS, type SizeRow } from './contents'
import type { Tx } from './tx'

type PriceRow = Readonly<{ sizeId: string; fillMinor: number; currency: string }>
type HereRow = Readonly<{
  gasId: string
  sizeId: string
  /** All of this size that stand here; then those that hold gas which may be used. */
  all: number
  usable: number
  usableKg: number
  uKg2: number
}>
type SupplyRows = Readonly<{ here: HereRow[]; prices: PriceRow[]; currency: string }>

export type OnHand = Readonly<{ cylinders: number; usableKg: number; uKg: number }>
const NOTHING: OnHand = { cylinders: 0, usableKg: 0, uKg: 0 }

/** What a site can use now, and what it would order: read once a page, for all its jobs. */
export type SiteSupply = Readonly<{
  onHand: (gasId: string) => OnHand
  sizeFor: (gasId: string) => SizeRow | null
  priceOf: (sizeId: string) => PriceRow | null
  currency: string
}>

/** What stands here by size, above what is left in at change, and what a cylinder costs: one statement. */
async function readSupply(
  client: Tx,
  siteId: string,
  sizes: readonly SizeRow[],
): Promise<SupplyRows> {
  const reserves = sizes.map((size) => ({
    size_id: size.id,
    kg: reserveOf(size).reserveKg,
    u: deliveredUKg(size),
  }))
  const [row] = await client.$queryRaw<{ supply: SupplyRows }[]>`
    WITH here AS (
      SELECT c.gas_id AS "gasId", c.size_id AS "sizeId", count(*) AS "all",
             count(*) FILTER (WHERE c.status IN ('full', 'partial', 'in_use')) AS usable,
             coalesce(sum(greatest(0, c.contents_kg - r.kg)) FILTER (WHERE c.status IN ('full', 'partial', 'in_use')), 0) AS "usableKg",
             coalesce(sum(power(coalesce(c.contents_u_kg, r.u), 2)) FILTER (WHERE c.status IN ('full', 'partial', 'in_use')), 0) AS "uKg2"
      FROM cylinders c
      JOIN jsonb_to_recordset(${JSON.stringify(reserves)}::jsonb) AS r(size_id text, kg float8, u float8) ON r.size_id = c.size_id
      WHERE c.site_id = ${siteId}::uuid
      GROUP BY c.gas_id, c.size_id),
    priced AS (
      SELECT DISTINCT ON (size_id) size_id AS "sizeId", fill_minor AS "fillMinor", currency
      FROM prices
      WHERE valid_from <= kerf_now()::date AND (valid_until IS NULL OR valid_until >= kerf_now()::date)
      ORDER BY size_id, fill_minor)
    SELECT jsonb_build_object(
      'here', coalesce((SELECT jsonb_agg(here) FROM here), '[]'),
      'prices', coalesce((SELECT jsonb_agg(priced) FROM priced), '[]'),
      'currency', company.currency) AS supply
    FROM company LIMIT 1`
  if (!row) throw new Error('the company row is missing: the database has not been seeded')
  return row.supply
}

function onHandOf(here: readonly HereRow[], gasId: string): OnHand {
  const rows = here.filter((row) => row.gasId === gasId)
  if (rows.length === 0) return NOTHING
  return {
    cylinders: rows.reduce((sum, row) => sum + row.usable, 0),
    usableKg: rows.reduce((sum, row) => sum + row.usableKg, 0),
    uKg: Math.sqrt(rows.reduce((sum, row) => sum + row.uKg2, 0)),
  }
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
  const sizes: SizeRow[] = await client.cylinderSize.findMany({
    select: SIZE_COLUMNS,
    orderBy: { id: 'asc' },
  })
  const { here, prices: priced, currency } = await readSupply(client, siteId, sizes)
  const counts = new Map(here.map((row) => [row.sizeId, row.all]))
  const prices = new Map(priced.map((row) => [row.sizeId, row]))
  return {
    onHand: (gasId) => onHandOf(here, gasId),
    sizeFor: (gasId) =>
      chooseSize(
        sizes.filter((size) => size.gasId === gasId),
        counts,
        prices,
      ),
    priceOf: (sizeId) => prices.get(sizeId) ?? null,
    currency,
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

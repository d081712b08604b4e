import 'server-only'
import { GAS_CODES, type GasCode } from '@/lib/calc/gas-data'
import { type Amount, amountOf } from '@/lib/calc/site-balance'
import { type Cost, costBetween, costOf, pricePerKg } from '@/lib/calc/unaccounted'
import { db } from './client'
import { readNow } from './cylinders'

const DAY_MS = 86_400_000

export type UnaccountedRow = Readonly<{
  siteId: string
  siteName: string
  gas: GasCode
  /** Beyond the work logged, and lost while none was. */
  unexplained: Amount
  /** Null where no price was agreed for the gas. */
  cost: Cost | null
}>

export type UnaccountedPage = Readonly<{
  /** The dearest first. */
  rows: readonly UnaccountedRow[]
  /** Of all pages that have a price, together; null where none has. */
  total: Cost | null
  next: string | null
  currency: string
}>

type Asked = Readonly<{
  siteIds: readonly string[]
  days: number | null
  after: string | null
  most: number
}>

const NO_ID = '00000000-0000-0000-0000-000000000000'
const CURSOR = /^(-Infinity|[0-9.e+-]+)~([0-9a-f-]{36})$/

/** Price of a kilogram of each gas by what was last agreed for each of its sizes. */
async function readPrices(): Promise<ReadonlyMap<string, number>> {
  const rows = await db.$queryRaw<{ gasId: string; nominalKg: number; fillMinor: number }[]>`
    SELECT DISTINCT ON (p.size_id) z.gas_id AS "gasId", z.nominal_kg AS "nominalKg", p.fill_minor AS "fillMinor"
    FROM prices p JOIN cylinder_sizes z ON z.id = p.size_id
    WHERE p.valid_until IS NULL OR p.valid_until >= kerf_now()::date
    ORDER BY p.size_id, p.valid_from DESC, p.id`
  const gases = new Set(rows.map((row) => row.gasId))
  return new Map(
    [...gases].flatMap((gasId) => {
      const price = pricePerKg(rows.filter((row) => row.gasId === gasId))
      return price === null ? [] : [[gasId, price] as const]
    }),
  )
}

type Row = Readonly<{
  id: string
  siteId: string
  siteName: string
  gas: GasCode
  kg: number
  variance: number
  minor: number | null
  order: number
  totalMinor: number | null
  totalVariance: number | null
}>

/** Gas that nobody accounts for at these sites by what it costs, after a cursor; one that nobody gave out reads from the top. */
export async function pageOfUnaccounted(asked: Asked): Promise<UnaccountedPage> {
  const { most } = asked
  const [prices, company, now] = await Promise.all([
    readPrices(),
    db.company.findFirst({ select: { currency: true } }),
    readNow(),
  ])
  const found = await readRows(asked, prices, now)
  const shown = found.slice(0, most)
  const last = found.length > most ? shown.at(-1) : undefined
  const [any] = found
  return {
    currency: company?.currency ?? 'USD',
    total:
      any && any.totalMinor !== null
        ? costBetween({ minor: any.totalMinor, variance: any.totalVariance ?? 0 })
        : null,
    rows: shown.map(({ siteId, siteName, gas, kg, variance }) => {
      const unexplained = amountOf(kg, variance)
      const price = prices.get(gas)
      const cost = price === undefined ? null : costOf(unexplained, price)
      return { siteId, siteName, gas, unexplained, cost }
    }),
    next: last ? `${last.order}~${last.id}` : null,
  }
}

/** Sums of the weeks asked for, of the newest look that came to its end; in the order of their cost, those without a price last. */
function readRows(
  { siteIds, days, after, most }: Asked,
  prices: ReadonlyMap<string, number>,
  now: Date,
): Promise<Row[]> {
  const sinceMs = days === null ? 0 : now.getTime() - days * DAY_MS
  const [, order, id] = CURSOR.exec(after ?? '') ?? []
  const isAfter = order !== undefined && !Number.isNaN(Number(order))
  return db.$queryRaw<Row[]>`
    WITH summed AS (
      SELECT b.id, b.site_id AS "siteId", s.short_name AS "siteName", b.gas_id AS gas, w.kg, w.variance, w.kg * p.minor AS minor,
             w.variance * p.minor * p.minor AS doubt
      FROM site_balances b JOIN sites s ON s.id = b.site_id
      LEFT JOIN unnest(${[...prices.keys()]}::text[], ${[...prices.values()]}::float8[]) AS p(gas_id, minor) ON p.gas_id = b.gas_id
      CROSS JOIN LATERAL (
        SELECT sum(w.used_kg - w.expected_kg + w.lost_kg) AS kg,
               sum(w.expected_variance) + coalesce((array_agg(w.both_to_last ORDER BY w.from_ms))[1], sum(w.used_variance + w.lost_variance)) AS variance
        FROM (
          SELECT (o ->> 'fromMs')::float8 AS from_ms, (o #>> '{toLast,both}')::float8 AS both_to_last,
                 (o -> 'used' ->> 'kg')::float8 AS used_kg, (o -> 'used' ->> 'variance')::float8 AS used_variance,
                 (o -> 'expected' ->> 'kg')::float8 AS expected_kg, (o -> 'expected' ->> 'variance')::float8 AS expected_variance,
                 (o -> 'lost' ->> 'kg')::float8 AS lost_kg, (o -> 'lost' ->> 'variance')::float8 AS lost_variance
          FROM jsonb_array_elements(b.weeks) AS o WHERE (o ->> 'fromMs')::float8 >= ${sinceMs}::float8) AS w) AS w
      WHERE b.run_id = (SELECT r.id FROM audit_runs r WHERE r.finished_at IS NOT NULL AND NOT r.failed ORDER BY r.finished_at DESC LIMIT 1)
        AND b.site_id = ANY(${siteIds}::uuid[]) AND b.gas_id = ANY(${[...GAS_CODES]}::text[]) AND w.kg IS NOT NULL),
    ordered AS (
      SELECT *, coalesce(minor, '-Infinity') AS "order", sum(minor) OVER () AS "totalMinor", sum(doubt) OVER () AS "totalVariance" FROM summed)
    SELECT * FROM ordered
    WHERE NOT ${isAfter} OR ("order", id) < (${isAfter ? order : '0'}::text::float8, ${id ?? NO_ID}::uuid)
    ORDER BY "order" DESC, id DESC LIMIT ${most + 1}`
}

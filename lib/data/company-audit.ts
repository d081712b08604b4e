import 'server-only'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { type GasCode, isGasCode } from '@/lib/calc/gas-data'
import { type PeriodBalance, periodBalance } from '@/lib/calc/site-balance'
import { normalInterval } from '@/lib/calc/stats'
import { type Cost, costOf, costTogether, pricePerKg } from '@/lib/calc/unaccounted'
import { AppError } from '@/lib/errors'
import { weeksSchema } from '@/lib/schemas/finding'
import { db } from './client'
import { type DrawnFactor, factorsLearned } from './crew-factors'
import { readNow } from './cylinders'

const DAY_MS = 86_400_000
const MOST_CREWS = 2_000

export type CrewFactorRow = DrawnFactor &
  Readonly<{
    /** Names a row for the page after it. */
    key: string
    crewName: string
    siteName: string
    low90: number
    high90: number
    /** Of its site, that it is drawn towards. */
    siteFactor: number | null
  }>

export type UnaccountedRow = Readonly<{
  siteId: string
  siteName: string
  gas: GasCode
  period: PeriodBalance
  /** Null where no price was agreed for the gas. */
  cost: Cost | null
}>

export type CompanyAudit = Readonly<{
  /** Mean of all crews with its interval; null where too little is known. */
  company: Readonly<{ mean: number; low90: number; high90: number; jobs: number }> | null
  learnedAt: Date | null
  /** Those that run highest first. */
  crews: readonly CrewFactorRow[]
  /** The dearest first. */
  unaccounted: readonly UnaccountedRow[]
  /** Over all of them that have a price. */
  total: Cost | null
  currency: string
  lookedAt: Date | null
}>

export type CompanyFilter = Readonly<{ siteId: string | null; days: number | null }>

/** How a company's crews run, and what its unaccounted gas costs, as the last look found them. */
export async function getCompanyAudit(
  viewer: Viewer,
  { siteId, days }: CompanyFilter,
): Promise<CompanyAudit> {
  if (siteId) assertCan(viewer, 'audit:read', siteId)
  const siteIds = siteId ? [siteId] : sitesWhere(viewer, 'audit:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'audit:read' })
  const [learned, crews, unaccounted] = await Promise.all([
    factorsLearned(db),
    readCrews(siteIds),
    readUnaccounted(siteIds, days),
  ])
  const rows = crews.flatMap((crew): CrewFactorRow[] => {
    const factor = learned?.crewOf(crew.siteId, crew.id)
    if (!factor) return []
    return [
      {
        ...factor,
        ...interval(factor),
        key: crew.id,
        crewName: crew.name,
        siteName: crew.siteName,
        siteFactor: learned?.siteOf(crew.siteId)?.mean ?? null,
      },
    ]
  })
  const { company } = learned ?? { company: null }
  return {
    company: company ? { ...company, ...interval(company) } : null,
    learnedAt: learned?.at ?? null,
    crews: rows.sort((a, b) => b.mean - a.mean || a.key.localeCompare(b.key)),
    ...unaccounted,
  }
}

const interval = ({ mean, u }: Readonly<{ mean: number; u: number }>) => {
  const { low90, high90 } = normalInterval({ mean, standardUncertainty: u, min: 0 })
  return { low90, high90 }
}

type CrewRow = Readonly<{ id: string; name: string; siteId: string; siteName: string }>

const readCrews = (siteIds: readonly string[]) =>
  db.$queryRaw<CrewRow[]>`
    SELECT c.id, c.name, c.site_id AS "siteId", s.short_name AS "siteName"
    FROM crews c JOIN sites s ON s.id = c.site_id
    WHERE c.site_id = ANY(${siteIds}::uuid[]) ORDER BY c.id LIMIT ${MOST_CREWS}`

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

async function readUnaccounted(siteIds: readonly string[], days: number | null) {
  const [run, prices, company, now] = await Promise.all([
    db.auditRun.findFirst({
      where: { finishedAt: { not: null }, failed: false },
      orderBy: { finishedAt: 'desc' },
      select: { id: true, finishedAt: true },
    }),
    readPrices(),
    db.company.findFirst({ select: { currency: true } }),
    readNow(),
  ])
  const common = { currency: company?.currency ?? 'USD', lookedAt: run?.finishedAt ?? null }
  if (!run) return { ...common, unaccounted: [], total: null }
  const rows = await db.$queryRaw<
    { siteId: string; siteName: string; gasId: string; weeks: unknown }[]
  >`
    SELECT b.site_id AS "siteId", s.short_name AS "siteName", b.gas_id AS "gasId", b.weeks
    FROM site_balances b JOIN sites s ON s.id = b.site_id
    WHERE b.run_id = ${run.id}::uuid AND b.site_id = ANY(${siteIds}::uuid[])`
  const sinceMs = days === null ? -Infinity : now.getTime() - days * DAY_MS
  const unaccounted = rows.flatMap((row): UnaccountedRow[] => {
    const { siteId, siteName, gasId } = row
    const weeks = weeksSchema.parse(row.weeks).filter((week) => week.fromMs >= sinceMs)
    if (!isGasCode(gasId) || weeks.length === 0) return []
    const period = periodBalance(weeks)
    const price = prices.get(gasId)
    const cost = price === undefined ? null : costOf(period.unexplained, price)
    return [{ siteId, siteName, gas: gasId, period, cost }]
  })
  const costs = unaccounted.flatMap((row) => row.cost ?? [])
  return {
    ...common,
    total: costs.length > 0 ? costTogether(costs) : null,
    unaccounted: unaccounted.sort(
      (a, b) =>
        (b.cost?.minor ?? -Infinity) - (a.cost?.minor ?? -Infinity) ||
        a.siteName.localeCompare(b.siteName) ||
        a.gas.localeCompare(b.gas),
    ),
  }
}

import 'server-only'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { type GasCode, isGasCode } from '@/lib/calc/gas-data'
import {
  type LossChart,
  lossChart,
  lossPlan,
  type PeriodBalance,
  periodBalance,
} from '@/lib/calc/site-balance'
import { AppError } from '@/lib/errors'
import { type BalanceFilter, weeksSchema } from '@/lib/schemas/finding'
import { db } from '../client'

export type SiteGasBalance = Readonly<{
  siteId: string
  siteName: string
  zone: string
  gas: GasCode
  period: PeriodBalance
  /** Of the whole record, so that an onset before the period is still seen. */
  chart: LossChart
  /** Weeks of the chart that the period shows. */
  shownWeeks: number
}>

export type SiteBalancePage = Readonly<{
  balance: SiteGasBalance | null
  sites: readonly Readonly<{ id: string; shortName: string }>[]
  gases: readonly GasCode[]
  siteId: string
  lookedAt: Date | null
}>

/** A site's gas for a period, and its loss chart, as the last look found them. */
export async function getSiteBalance(
  viewer: Viewer,
  filter: BalanceFilter,
): Promise<SiteBalancePage> {
  const siteIds = sitesWhere(viewer, 'audit:read')
  if (filter.site) assertCan(viewer, 'audit:read', filter.site)
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'audit:read' })
  const sites = await db.site.findMany({
    where: { id: { in: siteIds } },
    orderBy: { shortName: 'asc' },
    select: { id: true, shortName: true, zone: true },
  })
  const run = await db.auditRun.findFirst({
    where: { finishedAt: { not: null }, failed: false },
    orderBy: { finishedAt: 'desc' },
    select: { id: true, finishedAt: true, parts: true },
  })
  const site = sites.find((one) => one.id === filter.site) ?? sites[0]
  if (!site) throw new AppError('NOT_FOUND')
  const rows = run
    ? await db.siteBalance.findMany({
        where: { runId: run.id, siteId: site.id },
        orderBy: { gasId: 'asc' },
        select: { gasId: true, weeks: true },
      })
    : []
  const shown =
    rows.find((row) => row.gasId === filter.gas) ??
    rows.find((row) => row.gasId === 'oxygen') ??
    rows[0]
  const common = {
    sites,
    siteId: site.id,
    gases: rows.flatMap((row) => (isGasCode(row.gasId) ? [row.gasId] : [])),
    lookedAt: run?.finishedAt ?? null,
  }
  if (!shown || !run || !isGasCode(shown.gasId)) return { ...common, balance: null }
  const weeks = weeksSchema.parse(shown.weeks)
  return {
    ...common,
    balance: {
      siteId: site.id,
      siteName: site.shortName,
      zone: site.zone,
      gas: shown.gasId,
      period: periodBalance(weeks.slice(-filter.weeks)),
      chart: lossChart(weeks, lossPlan(run.parts, filter.alarms)),
      shownWeeks: filter.weeks,
    },
  }
}

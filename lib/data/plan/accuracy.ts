import 'server-only'
import { sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { type Backtest, type BacktestPlan, backtest } from '@/lib/calc/backtest'
import { AppError } from '@/lib/errors'
import { db } from '../client'
import { HISTORY_DAYS } from '../forecast-rows'

/** A week at a time: what a truck covers. */
const PLAN: BacktestPlan = { horizon: 7, origins: 12, learnFrom: 24, warmUp: 14 }

export type Accuracy = Readonly<{ days: number; weeks: number; tested: Backtest | null }>

/** How forecasts of a week would have done against the cylinders that came off empty, site by site and gas by gas. */
export async function getAccuracy(viewer: Viewer): Promise<Accuracy> {
  const siteIds = sitesWhere(viewer, 'order:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'order:read' })
  const rows = await db.$queryRaw<{ days_ago: number[]; cylinders: number[] }[]>`
    SELECT array_agg(s.today - d.day) AS days_ago, array_agg(d.cylinders) AS cylinders
    FROM (SELECT id, (kerf_now() AT TIME ZONE zone)::date AS today FROM sites WHERE id = ANY(${siteIds}::uuid[])) s
    JOIN emptied_days d ON d.site_id = s.id AND d.day >= s.today - ${HISTORY_DAYS}::int AND d.day < s.today
    GROUP BY d.site_id, d.gas_id`
  const series = rows.map((row) => {
    const perDay = new Array<number>(HISTORY_DAYS).fill(0)
    for (const [i, ago] of row.days_ago.entries())
      perDay[HISTORY_DAYS - ago] = row.cylinders[i] ?? 0
    return perDay
  })
  return {
    days: HISTORY_DAYS,
    weeks: PLAN.origins,
    tested: series.length > 0 ? backtest(series, PLAN) : null,
  }
}

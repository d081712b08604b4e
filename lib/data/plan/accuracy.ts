import 'server-only'
import { sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { Backtest } from '@/lib/calc/backtest'
import { AppError } from '@/lib/errors'
import { HISTORY_DAYS } from '../forecast-rows'
import { BACKTEST, judgedOf, readSeries } from '../learned-demand'

export type Accuracy = Readonly<{ days: number; weeks: number; tested: Backtest | null }>

/**
 * How forecasts of a week would have done against the cylinders that came off empty, site by site and gas by gas.
 * What was planned by the first estimates counts in each forecast, as it does in the plan's.
 */
export async function getAccuracy(viewer: Viewer): Promise<Accuracy> {
  const siteIds = sitesWhere(viewer, 'order:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'order:read' })
  const used = (await readSeries(siteIds)).filter(({ history }) =>
    history.came.some((cylinders) => cylinders > 0),
  )
  return {
    days: HISTORY_DAYS,
    weeks: BACKTEST.origins,
    tested: judgedOf(used),
  }
}

import 'server-only'
import type { TipChart } from '@/lib/calc/tables/tip-chart'
import { type CrewUsed, crewsLearned } from './crew-factors'
import { siteCharts } from './tip-charts'
import type { Tx } from './tx'

/** What a list is estimated by besides its cuts: the chart of the crew's outfit, and how the crew runs against it. */
export type Norms = Readonly<{
  /** The shop's own; null is the built-in table. */
  chart: TipChart | null
  /** Null while nothing is learned. */
  crew: CrewUsed | null
}>

/** The norms of a site's lists. The caller has checked the site. */
export async function siteNorms(
  client: Tx,
  siteId: string,
): Promise<(crewId: string | null, fuel: string) => Norms> {
  const [charts, crews] = await Promise.all([siteCharts(client, siteId), crewsLearned(client)])
  return (crewId, fuel) => ({ chart: charts(crewId, fuel), crew: crews(siteId, crewId) })
}

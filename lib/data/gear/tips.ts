import 'server-only'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { tipsWanted } from '@/lib/permit/gear-checks'
import { db } from '../client'
import { openCut } from '../estimates-terms'
import { getJob } from '../jobs'

const MOST_JOBS = 12
/** Orifices of one table differ by more than this; metres. */
const GRAIN_M = 1e-5

export type TipsPage = Readonly<{
  sizes: readonly Readonly<{ orificeM: number; cuts: number; held: number }>[]
  jobs: readonly Readonly<{ id: string; number: string; title: string }>[]
  /** Cuts that no table has a tip for. */
  without: number
}>

/** The sizes of tip that the cuts left on a site's lists will need, beside those on its outfits. */
export async function getTipsWanted(viewer: Viewer, siteId: string): Promise<TipsPage> {
  assertCan(viewer, 'job:read', siteId)
  const jobs = await db.job.findMany({
    where: { siteId, state: { in: ['planned', 'running'] } },
    orderBy: [{ plannedStart: 'asc' }, { id: 'asc' }],
    take: MOST_JOBS,
    select: { id: true, number: true, title: true },
  })
  const cuts: { orificeM: number | null; cuts: number }[] = []
  for (const { id } of jobs) {
    const { list, tips } = await getJob(viewer, id)
    for (const cut of list?.cuts ?? []) {
      const left = cut.count - cut.doneCount
      if (!list || left <= 0) continue
      const orificeM = openCut(cut, list.estimate, tips)?.settings?.orificeM ?? null
      cuts.push({ orificeM: orificeM && Math.round(orificeM / GRAIN_M) * GRAIN_M, cuts: left })
    }
  }
  const held = await db.outfitPart.findMany({
    where: { kind: 'tip', removedAt: null, orificeM: { not: null }, outfit: { siteId } },
    select: { orificeM: true },
  })
  return {
    sizes: tipsWanted(
      cuts.flatMap(({ orificeM, cuts: count }) => (orificeM ? [{ orificeM, cuts: count }] : [])),
      held.map((tip) => ({ orificeM: tip.orificeM ?? 0 })),
    ),
    jobs,
    without: cuts.filter((cut) => cut.orificeM === null).length,
  }
}

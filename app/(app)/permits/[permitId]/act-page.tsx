import type { ReactNode } from 'react'
import { found } from '@/app/_components/found'
import type { Viewer } from '@/lib/access/viewer'
import { requireViewer } from '@/lib/auth/viewer'
import { getPermit, type PermitView } from '@/lib/data/permits/get'
import { listPermitHands, type SiteHand } from '@/lib/data/permits/people'
import type { FormatPrefs } from '@/lib/format/prefs'
import { PermitFrame } from './frame'
import { PermitSlab } from './permit-slab'

export type ActScene = Readonly<{
  viewer: Viewer
  view: PermitView
  hands: readonly SiteHand[]
  prefs: FormatPrefs
}>

/** What a screen with one act on a permit reads. */
export async function readScene(permitId: string): Promise<ActScene> {
  const viewer = await requireViewer()
  const view = await found(getPermit(viewer, permitId))
  const hands = await listPermitHands(viewer, view.head.siteId, view.day)
  return {
    viewer,
    view,
    hands,
    prefs: { units: viewer.units, clock: viewer.clock, timeZone: view.head.zone },
  }
}

/** One act on one screen, with the danger slab under it while the permit is open or held. */
export function ActPage({
  scene,
  title,
  children,
}: Readonly<{ scene: ActScene; title: string; children: ReactNode }>) {
  const { view, hands, prefs } = scene
  const { head } = view
  return (
    <PermitFrame head={head} prefs={prefs} title={title} backHref={`/permits/${head.id}`}>
      <div className="px-4 py-3 desk:max-w-[560px] desk:px-8 [&_.refusal]:-mx-4">{children}</div>
      <PermitSlab head={head} hands={hands} operatorId={view.people.operatorId} />
    </PermitFrame>
  )
}

import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { requireViewer } from '@/lib/auth/viewer'
import { getPermit } from '@/lib/data/permits/get'
import { listPermitHands } from '@/lib/data/permits/people'
import { OpenPermit } from './open-permit'
import { WaitingPermit } from './waiting-permit'

type PermitPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit'))('title') }
}

export default async function PermitPage({ params }: PermitPageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const view = await found(getPermit(viewer, permitId))
  const { head } = view
  if (head.state === 'watch') redirect(`/permits/${head.id}/watch`)
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
  if (head.state !== 'open' && head.state !== 'held')
    return <WaitingPermit view={view} prefs={prefs} />
  const hands = await listPermitHands(viewer, head.siteId, view.day)
  return <OpenPermit view={view} hands={hands} prefs={prefs} />
}

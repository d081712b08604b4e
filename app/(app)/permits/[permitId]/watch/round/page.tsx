import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DangerSlab } from '@/app/_components/danger/danger-slab'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { requireViewer } from '@/lib/auth/viewer'
import { getWatch } from '@/lib/data/watch/view'
import { RoundScreen } from './round-screen'

type RoundPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('watch'))('roundTitle') }
}

export default async function RoundPage({ params }: RoundPageProps) {
  const viewer = await requireViewer()
  const view = await found(getWatch(viewer, (await params).permitId))
  const { head } = view
  if (head.state !== 'held' && head.state !== 'watch') redirect(`/permits/${head.id}`)
  return (
    <PrefsProvider prefs={{ units: viewer.units, clock: viewer.clock, timeZone: head.zone }}>
      <RoundScreen view={view} />
      <DangerSlab kind="smoke" permitId={head.id} whomToCall={view.emergencyWords || undefined} />
    </PrefsProvider>
  )
}

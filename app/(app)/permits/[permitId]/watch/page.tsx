import type { Metadata } from 'next'
import Link from 'next/link'
import { redirect } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DangerSlab } from '@/app/_components/danger/danger-slab'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { Status } from '@/app/_components/marks/status-mark'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getWatch, type WatchView } from '@/lib/data/watch/view'
import { findRule } from '@/lib/rules/catalogue'
import { statusOf } from '../../permit-status'
import { LeaveForm } from './leave-form'
import { WatchScreen } from './watch-screen'

type WatchPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('watch'))('title') }
}

export default async function WatchPage({ params }: WatchPageProps) {
  const viewer = await requireViewer()
  const view = await found(getWatch(viewer, (await params).permitId))
  const { head } = view
  if (head.state !== 'held' && head.state !== 'watch') redirect(`/permits/${head.id}`)
  const t = await getTranslations('watch')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
  const where = t('where', { area: head.areaName, number: head.number })
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead
        title={t('title')}
        where={where}
        backHref={head.state === 'held' ? `/permits/${head.id}` : `/today?site=${head.siteId}`}
        aside={head.isStopped ? <Status status="stopped" /> : null}
      />
      <DeskPageHead
        title={t('title')}
        sentence={
          <>
            <Status status={statusOf(head)} size="desk" /> {where}. {head.what}
          </>
        }
      />
      <WatchScreen view={view} ruleWords={findRule(view.watchRule)?.citation ?? null} />
      <More view={view} viewerId={viewer.personId} />
      <DangerSlab kind="smoke" permitId={head.id} whomToCall={view.emergencyWords || undefined} />
    </PrefsProvider>
  )
}

async function More({ view, viewerId }: Readonly<{ view: WatchView; viewerId: string }>) {
  const t = await getTranslations('watch')
  const base = `/permits/${view.head.id}`
  const links = [
    view.can.sign ? { href: `${base}/hand-over`, words: t('handOver') } : null,
    view.head.state === 'watch'
      ? { href: `${base}/close`, words: t('owedLink', { count: view.owed.length }) }
      : null,
    view.can.resume &&
    view.head.state === 'watch' &&
    !view.head.isStopped &&
    view.validUntil &&
    view.validUntil > view.now
      ? { href: `${base}/resume`, words: t('reopen') }
      : null,
    { href: `/outside?site=${view.head.siteId}&permit=${view.head.id}`, words: t('outside') },
    { href: `${base}/record`, words: t('record') },
  ].filter((link) => link !== null)
  return (
    <div className="grid gap-2 px-4 pb-4 desk:px-8">
      <p className="flex flex-wrap gap-x-6 gap-y-2">
        {links.map((link) => (
          <Link key={link.href} href={link.href} className="text-link py-1">
            {link.words}
          </Link>
        ))}
      </p>
      {view.isViewerOn && view.can.watch ? (
        <LeaveForm permitId={view.head.id} version={view.head.version} personId={viewerId} />
      ) : null}
    </div>
  )
}

import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { requireViewer } from '@/lib/auth/viewer'
import { getInstruments } from '@/lib/data/instruments'
import { getPermit } from '@/lib/data/permits/get'
import { listPermitHands } from '@/lib/data/permits/people'
import { formatDay } from '@/lib/format/clock'
import { PermitFacts } from '../facts'
import { PermitFrame } from '../frame'
import { PermitSlab } from '../permit-slab'
import { GasTestForm } from './gas-test-form'

type GasTestPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.gasTest'))('title') }
}

export default async function GasTestPage({ params }: GasTestPageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const view = await found(getPermit(viewer, permitId))
  const hands = await listPermitHands(viewer, view.head.siteId, view.day)
  const { instruments } = await getInstruments(viewer, view.head.siteId)
  const t = await getTranslations('permit.gasTest')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: view.head.zone }
  const { head } = view
  const backHref = head.state === 'cleared' ? `/permits/${head.id}/sign` : `/permits/${head.id}`
  const isOver = head.state === 'closed' || head.state === 'withdrawn'
  return (
    <PermitFrame
      head={head}
      prefs={prefs}
      title={t('title')}
      backHref={backHref}
      sentence={t('lasts', { minutes: view.gas.validMin })}
    >
      <div className="desk:grid desk:grid-cols-2 desk:gap-x-12 desk:px-8">
        <div>
          <p className="px-4 pt-1 type-note text-ink-2 desk:hidden">
            {t('lasts', { minutes: view.gas.validMin })}
          </p>
          {isOver ? <p className="px-4 py-3 desk:px-0">{t('over')}</p> : null}
          {!isOver && view.can.clear ? (
            <GasTestForm
              permitId={head.id}
              version={head.version}
              today={formatDay(view.now, prefs)}
              instrument={view.gasTest?.instrument ?? ''}
              instruments={instruments}
              siteId={head.siteId}
              backHref={backHref}
            />
          ) : null}
          {!isOver && !view.can.clear ? (
            <p className="px-4 py-3 desk:px-0">{t('notYours')}</p>
          ) : null}
        </div>
        <div className="hidden desk:block">
          <PermitFacts view={view} prefs={prefs} />
        </div>
      </div>
      <PermitSlab head={head} hands={hands} operatorId={view.people.operatorId} />
    </PermitFrame>
  )
}

import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { PlainRow } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import { getPermit, type PermitView } from '@/lib/data/permits/get'
import { listPermitHands } from '@/lib/data/permits/people'
import { localClock, localDay } from '@/lib/format/local-time'
import { PermitFrame } from '../frame'
import { PermitSlab } from '../permit-slab'
import { LogForm } from './log-form'

type LogPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.log'))('title') }
}

/** From the last log, or since the work began; until now. Both may be set back: a late entry is only marked late. */
function worked({ lastLog, openSince, issuedAt, now }: PermitView): { from: Date; to: Date } {
  const from = [lastLog?.at, openSince, issuedAt]
    .filter((at) => at instanceof Date)
    .toSorted((a, b) => b.getTime() - a.getTime())[0]
  return { from: from ?? now, to: now }
}

export default async function LogPage({ params }: LogPageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const view = await found(getPermit(viewer, permitId))
  const hands = await listPermitHands(viewer, view.head.siteId, view.day)
  const t = await getTranslations('permit.log')
  const { head, cuts } = view
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
  const { from, to } = worked(view)
  const first =
    view.lastLog?.cut && view.lastLog.cut.doneCount < view.lastLog.cut.count
      ? view.lastLog.cut
      : cuts.find((cut) => cut.doneCount < cut.count)
  return (
    <PermitFrame
      head={head}
      prefs={prefs}
      title={t('title')}
      backHref={`/permits/${head.id}`}
      sentence={t('sentence', { number: head.number })}
    >
      <div className="desk:grid desk:grid-cols-2 desk:gap-x-12 desk:px-8">
        <div>
          {view.issuedAt && view.can.log ? (
            <LogForm
              permitId={head.id}
              day={localDay(from, head.zone)}
              from={localClock(from, head.zone)}
              to={localClock(to, head.zone)}
              cuts={cuts.map((cut) => ({
                value: cut.id,
                label: t('cutOption', {
                  ordinal: cut.ordinal,
                  title: cut.title,
                  done: cut.doneCount,
                  count: cut.count,
                }),
              }))}
              firstCut={first?.id ?? ''}
              operators={view.operators.map(({ id, name }) => ({ value: id, label: name }))}
              outsideHref={`/outside?site=${head.siteId}&permit=${head.id}`}
            />
          ) : (
            <p className="px-4 py-3 desk:px-0">{t(view.issuedAt ? 'notYours' : 'notOpen')}</p>
          )}
        </div>
        <ul className="plain-rows hidden content-start desk:block">
          {cuts.map((cut) => (
            <PlainRow
              key={cut.id}
              title={t('cutTitle', { ordinal: cut.ordinal, title: cut.title })}
              aside={t('doneOf', { done: cut.doneCount, count: cut.count })}
              isQuiet={cut.doneCount >= cut.count}
            />
          ))}
        </ul>
      </div>
      <PermitSlab head={head} hands={hands} operatorId={view.people.operatorId} />
    </PermitFrame>
  )
}

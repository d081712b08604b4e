import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { FactList } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import { getIncident } from '@/lib/data/incidents'
import { formatDayClock } from '@/lib/format/clock'
import { StepForms } from './step-forms'

type IncidentPageProps = Readonly<{ params: Promise<{ incidentId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('incidents'))('title') }
}

export default async function IncidentPage({ params }: IncidentPageProps) {
  const viewer = await requireViewer()
  const one = await found(getIncident(viewer, (await params).incidentId))
  const t = await getTranslations('incidents')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: one.zone }
  const where = t('one.where', { area: one.areaName, outfit: one.outfitNumber ?? 'none' })
  const title = t(`kinds.${one.kind}`)
  return (
    <>
      <PhoneHead
        title={title}
        where={where}
        backHref={`/incidents?site=${one.siteId}`}
        aside={t(one.isClosed ? 'states.closed' : 'states.open')}
      />
      <DeskPageHead
        title={title}
        sentence={
          <>
            <b>{t(one.isClosed ? 'states.closed' : 'states.open')}</b>. {where}
          </>
        }
      />
      <div className="grid gap-8 px-4 py-3 desk:grid-cols-2 desk:px-8">
        <div>
          <p className="type-row-title">{one.what}</p>
          <FactList
            facts={[
              { name: t('one.happened'), value: formatDayClock(one.happenedAt, prefs) },
              { name: t('one.recorded'), value: formatDayClock(one.recordedAt, prefs) },
              { name: t('one.by'), value: one.byName },
              ...(one.done ? [{ name: t('one.done'), value: one.done }] : []),
            ]}
          />
          <p className="py-2">
            {one.permit ? (
              <Link className="text-link" href={`/permits/${one.permit.id}`}>
                {t('one.permit', { number: one.permit.number })}
              </Link>
            ) : (
              t('one.noPermit')
            )}
          </p>
          <h2 className="type-section mt-4 border-b-2 border-ink pb-1">{t('one.steps')}</h2>
          {one.steps.length === 0 ? <p className="py-2 text-ink-2">{t('one.nobody')}</p> : null}
          <ol>
            {one.steps.map((step) => (
              <li key={step.id} className="border-b border-rule py-2">
                <b className="font-semibold">{t(`one.${step.kind}`)}</b> {step.words}
                <span className="block type-note text-ink-2">
                  {formatDayClock(step.at, prefs)}, {step.byName}
                </span>
              </li>
            ))}
          </ol>
        </div>
        {one.canClose ? <StepForms incidentId={one.id} /> : null}
      </div>
    </>
  )
}

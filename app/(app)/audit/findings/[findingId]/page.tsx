import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { frameFor } from '@/lib/auth/frame'
import { requireViewer } from '@/lib/auth/viewer'
import { type FindingDetail, getFinding } from '@/lib/data/findings/list'
import { formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { causeParams, dangerKey, sizeWords } from '../finding-view'
import { CausesTable } from './causes-table'
import { DecideForm } from './decide-form'
import { Evidence } from './evidence'

type FindingPageProps = Readonly<{ params: Promise<{ findingId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('findings'))('heading') }
}

export default async function FindingPage({ params }: FindingPageProps) {
  const viewer = await requireViewer()
  const finding = await found(getFinding(viewer, (await params).findingId))
  const { nowMs } = await frameFor(viewer)
  const t = await getTranslations('findings')
  const prefs: FormatPrefs = {
    units: viewer.units,
    clock: viewer.clock,
    timeZone: finding.zone,
  }
  const serialOf = new Map(finding.readings.map((one) => [one.cylinderId, one.serial]))
  const serialsOf = (ids: readonly string[]) => ids.flatMap((id) => serialOf.get(id) ?? [])
  const [first] = finding.causes
  const title = first ? t('title', causeParams(first, finding.serials)) : t('heading')
  const where = t('ofSite', { site: finding.siteName, danger: dangerKey(finding.danger) })
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={title} where={where} backHref="/audit/findings" />
      <DeskPageHead title={title} sentence={where} />
      <div className="grid gap-10 px-4 py-2 desk:px-8 wide:grid-cols-[minmax(0,6fr)_minmax(0,5fr)] wide:gap-12">
        <Evidence finding={finding} prefs={prefs} nowMs={nowMs} />
        <div className="grid min-w-0 content-start gap-8">
          <section className="min-w-0">
            <h2 className="type-section mb-1">{t('explains')}</h2>
            <CausesTable finding={finding} prefs={prefs} serialsOf={serialsOf} />
            {finding.jobs.length > 0 ? (
              <p className="mt-2 flex flex-wrap gap-x-5">
                {finding.jobs.map((job) => (
                  <Link
                    key={job.id}
                    href={`/audit/${job.id}`}
                    className="text-ink underline decoration-cobalt underline-offset-4"
                  >
                    {t('jobLink', { number: job.number })}
                  </Link>
                ))}
              </p>
            ) : null}
          </section>
          <Decision finding={finding} prefs={prefs} now={new Date(nowMs)} serialsOf={serialsOf} />
        </div>
      </div>
    </PrefsProvider>
  )
}

type DecisionProps = Readonly<{
  finding: FindingDetail
  prefs: FormatPrefs
  now: Date
  serialsOf: (ids: readonly string[]) => readonly string[]
}>

async function Decision({ finding, prefs, now, serialsOf }: DecisionProps) {
  const t = await getTranslations('findings')
  const { standing, causes } = finding
  const nameOf = (place: number | null) => {
    const cause = causes[place ?? -1]
    return cause ? t('cause', causeParams(cause, serialsOf(cause.cylinderIds))) : ''
  }
  const isAccepted = standing?.decision === 'accepted'
  return (
    <section className="min-w-0">
      <h2 className="type-section mb-2 border-b-2 border-ink pb-1">{t('decide')}</h2>
      {isAccepted ? (
        <p className="mb-3">
          {t('acceptedNow', {
            who: standing.personName,
            cause: nameOf(standing.hypothesis),
            when: formatWhen(standing.at, now, prefs),
            note: standing.note,
          })}
        </p>
      ) : null}
      {finding.mayDecide ? (
        <DecideForm
          findingId={finding.id}
          causes={
            isAccepted
              ? []
              : causes.map((cause, place) => ({
                  value: String(place),
                  label: t('option', {
                    cause: nameOf(place),
                    serials: serialsOf(cause.cylinderIds).join(', '),
                    size: sizeWords(cause, finding.gas, prefs.units).value,
                    unit: sizeWords(cause, finding.gas, prefs.units).unit,
                  }),
                }))
          }
        />
      ) : (
        <p className="text-ink-2">{t('only')}</p>
      )}
      {finding.history.length > 0 ? (
        <>
          <h3 className="mt-5 text-[14px] font-[650]">{t('history')}</h3>
          <ul className="border-t border-rule">
            {finding.history.map((one) => (
              <li key={one.at.getTime()} className="border-b border-rule py-2">
                <b>{t('historyRow', { decision: one.decision })}</b> {nameOf(one.hypothesis)}{' '}
                <span className="text-ink-2">
                  {one.personName}, {formatWhen(one.at, now, prefs)}
                </span>
                {one.note ? <span className="block">{one.note}</span> : null}
              </li>
            ))}
          </ul>
        </>
      ) : null}
    </section>
  )
}

import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getInstruments, type Instrument } from '@/lib/data/instruments'
import { resolveSite } from '@/lib/data/sites'
import { AddInstrumentForm, CheckForm } from './instrument-forms'

type InstrumentsPageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('instruments'))('title') }
}

export default async function InstrumentsPage({ searchParams }: InstrumentsPageProps) {
  const viewer = await requireViewer()
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const view = await found(getInstruments(viewer, site.id))
  const t = await getTranslations('instruments')
  return (
    <PrefsProvider prefs={{ units: viewer.units, clock: viewer.clock, timeZone: site.zone }}>
      <PhoneHead title={t('title')} where={view.siteName} backHref={`/today?site=${site.id}`} />
      <DeskPageHead title={t('title')} sentence={`${view.siteName}. ${t('sentence')}`} />
      <SectionNav section="gear" viewer={viewer} siteId={site.id} />
      <p className="px-4 pb-2 type-note text-ink-2 desk:hidden">{t('sentence')}</p>
      <div className="desk:max-w-[640px] desk:px-8">
        {view.instruments.length === 0 ? (
          <p className="px-4 py-2 desk:px-0">{t('none')}</p>
        ) : (
          <ul className="border-t-2 border-ink">
            {view.instruments.map((one) => (
              <InstrumentRow
                key={one.id}
                instrument={one}
                day={view.day}
                canChange={view.canChange}
              />
            ))}
          </ul>
        )}
        {view.canChange ? (
          <section className="px-4 py-4 desk:px-0 [&_.refusal]:-mx-4">
            <h2 className="type-section mb-2">{t('add')}</h2>
            <AddInstrumentForm siteId={view.siteId} />
          </section>
        ) : null}
      </div>
      <ListFiles lists={['instruments']} query={{ site: site.id }} />
    </PrefsProvider>
  )
}

type RowProps = Readonly<{ instrument: Instrument; day: string; canChange: boolean }>

async function InstrumentRow({ instrument, day, canChange }: RowProps) {
  const t = await getTranslations('instruments')
  const { name, model, bumpedOn, calibratedUntil, isReady } = instrument
  return (
    <li className="border-b border-rule px-4 py-2 desk:px-0">
      <div className="flex items-center gap-2.5">
        <span className={isReady ? undefined : 'text-heat'}>
          <AnswerMark name={isReady ? 'done' : 'refused'} />
        </span>
        <span className="min-w-0 flex-1">
          <span className="type-ident">{name}</span> {model}
        </span>
        <b className={`font-[650] ${isReady ? '' : 'text-heat'}`}>
          {t(isReady ? 'ready' : 'notReady')}
        </b>
      </div>
      <p className="type-note text-ink-2">
        {bumpedOn ? t('bumped', { day: bumpedOn }) : t('neverBumped')}{' '}
        {calibratedUntil ? t('calibrated', { day: calibratedUntil }) : t('neverCalibrated')}
      </p>
      {canChange ? (
        <details>
          <summary className="text-link flex min-h-12 items-center desk:min-h-8">
            {t('check', { name })}
          </summary>
          <CheckForm instrumentId={instrument.id} today={day} />
        </details>
      ) : null}
    </li>
  )
}

import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PlainRow } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import { getWeather } from '@/lib/data/permits/weather'
import { formatDayClock } from '@/lib/format/clock'
import { PermitFrame } from '../frame'
import { windWords } from '../wind-units'
import { WeatherForm } from './weather-form'

type WeatherPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.weather'))('title') }
}

/** Wind and burn bans while people cut in the open; what they forbid is held as soon as it is said. */
export default async function WeatherPage({ params }: WeatherPageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const view = await found(getWeather(viewer, permitId))
  const t = await getTranslations('permit.weather')
  const { head, reports, windMaxMph } = view
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
  return (
    <PermitFrame
      head={head}
      prefs={prefs}
      title={t('title')}
      backHref={`/permits/${permitId}`}
      sentence={t('sentence')}
    >
      <div className="px-4 py-3 desk:max-w-[560px] desk:px-8 [&_.refusal]:-mx-4">
        <p className="mb-2 text-ink-2 desk:hidden">{t('sentence')}</p>
        {view.isOutdoors ? null : <p className="mb-3 type-note">{t('indoors')}</p>}
        {view.isOutdoors && windMaxMph !== null ? (
          <p className="mb-3 type-note">
            {t('limit', { wind: windWords(windMaxMph, prefs.units) })}
          </p>
        ) : null}
        {view.canReport ? <WeatherForm permitId={permitId} canLift={view.canLift} /> : null}
      </div>
      {reports.length > 0 ? (
        <ul className="plain-rows border-t border-rule desk:mx-8">
          {reports.map((one) => (
            <PlainRow
              key={one.id}
              mark={<AnswerMark name={one.kind === 'burn_ban' ? 'refused' : 'done'} />}
              title={
                one.windMph === null
                  ? t(`kinds.${one.kind}`)
                  : `${t('kinds.wind')}: ${windWords(one.windMph, prefs.units)}`
              }
              note={one.words}
              aside={formatDayClock(one.at, prefs)}
            />
          ))}
        </ul>
      ) : null}
    </PermitFrame>
  )
}

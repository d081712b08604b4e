import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { EmptyState } from '@/app/_components/states/empty-state'
import { requireViewer } from '@/lib/auth/viewer'
import { resolveSite } from '@/lib/data/sites'
import { listStorage, type StoreArea } from '@/lib/data/storage'
import { formatDayClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { ANSWER_DAYS } from '@/lib/rules/store-answers'
import type { CylinderStatus } from '@/lib/schemas/cylinder'

type StoragePageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('storage'))('title') }
}

/** What stands where, and what the texts in force at the site say of it. */
export default async function StoragePage({ searchParams }: StoragePageProps) {
  const viewer = await requireViewer()
  const t = await getTranslations('storage')
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const { areas, mayAnswer } = await found(listStorage(viewer, site.id))
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const place = <SiteSwitch site={site} others={site.others} path="/storage" />
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} where={place} backHref={`/cylinders?site=${site.id}`} />
      <DeskPageHead title={t('title')} sentence={place} />
      <SectionNav section="gas" viewer={viewer} siteId={site.id} />
      {areas.length === 0 ? (
        <EmptyState title={t('none')} next={t('noneNext')} />
      ) : (
        <div className="flex flex-col gap-6 px-4 py-3 desk:px-8">
          <p className="type-note text-ink-2">{t('how')}</p>
          {areas.map((area) => (
            <Area key={area.id ?? 'none'} area={area} mayAnswer={mayAnswer} prefs={prefs} />
          ))}
        </div>
      )}
      <ListFiles lists={['storage']} query={{ site: site.id }} />
    </PrefsProvider>
  )
}

type AreaProps = Readonly<{ area: StoreArea; mayAnswer: boolean; prefs: FormatPrefs }>

async function Area({ area, mayAnswer, prefs }: AreaProps) {
  const t = await getTranslations('storage')
  const c = await getTranslations('cylinders')
  const params = (of: StoreArea['findings'][number]['params']) =>
    Object.fromEntries(
      Object.entries(of).map(([name, value]) => [
        name,
        typeof value === 'number' ? Math.round(value) : value,
      ]),
    )
  return (
    <section className="border-t-2 border-ink pt-2">
      <h2 className="type-row-title">{area.name ?? t('noArea')}</h2>
      <p className="type-note text-ink-2">
        {t(area.isIndoors ? 'indoors' : 'outdoors')}
        {area.isIndoors ? ` ${t(area.isSprinklered ? 'sprinklers' : 'noSprinklers')}` : null}
      </p>
      {area.id ? <Answers area={area} mayAnswer={mayAnswer} prefs={prefs} /> : null}
      <ul className="py-1">
        {area.lots.map((lot) => (
          <li key={`${lot.gasId}-${lot.sizeName}-${lot.status}`} className="type-note">
            {lot.count} × {c(`gas.${lot.gasId}` as 'gas.oxygen')} {lot.sizeName},{' '}
            {c(`status.${lot.status as CylinderStatus}`)}
          </li>
        ))}
      </ul>
      <ul>
        {area.findings.map((one) => (
          <li key={`${one.ruleId}-${one.code}-${one.params.quantityFt3 ?? ''}`} className="py-1">
            <span
              className={
                one.verdict !== 'ok' ? 'trouble' : 'inline-flex items-center gap-[7px] type-note'
              }
            >
              <AnswerMark name={one.verdict !== 'ok' ? 'late' : 'done'} sizePx={14} />
              {t(
                `${one.verdict !== 'ok' ? 'broken' : 'kept'}.${one.code}` as 'broken.separation',
                params(one.params),
              )}
            </span>{' '}
            <span className="type-small text-ink-2">
              {one.citation}
              {one.isRead ? null : `, ${t('memory')}`}
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}

/** Who measured the place and when; where nobody has, that it is to be done. */
async function Answers({ area, mayAnswer, prefs }: AreaProps) {
  const t = await getTranslations('storage')
  const { answers, name } = area
  const isOpen = !answers || answers.isStale
  return (
    <p className="type-note">
      {answers
        ? t('answered', { person: answers.personName, when: formatDayClock(answers.at, prefs) })
        : null}{' '}
      {isOpen ? (
        <span className="trouble">
          <AnswerMark name="due" sizePx={14} />
          {answers ? t('stale', { days: ANSWER_DAYS }) : t('unanswered')}
        </span>
      ) : null}{' '}
      {mayAnswer ? (
        <Link className="text-link" href={`/storage/${area.id}`}>
          {t(answers ? 'answerAgain' : 'answer', { area: name ?? '' })}
        </Link>
      ) : null}
    </p>
  )
}

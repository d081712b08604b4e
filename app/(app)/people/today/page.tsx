import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { getPeopleToday, type OnDuty } from '@/lib/data/people-today'
import { resolveSite } from '@/lib/data/sites'
import { formatDate } from '@/lib/format/clock'
import { DUTIES } from '@/lib/permit/people-today'
import { AssignedPart } from './assigned-part'
import { VisitorsPart } from './visitors-part'

type TodayProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('people.today'))('title') }
}

export default async function PeopleTodayScreen({ searchParams }: TodayProps) {
  const viewer = await requireViewer()
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const page = await found(getPeopleToday(viewer, site.id))
  const t = await getTranslations('people.today')
  const place = <SiteSwitch site={site} others={site.others} path="/people/today" />
  const sentence = t('sentence', {
    day: formatDate(new Date(`${page.day}T00:00:00Z`), { timeZone: 'UTC' }),
  })
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  return (
    <>
      <PhoneHead title={place} where={sentence} backHref="/people" />
      <DeskPageHead title={place} sentence={sentence} />
      <SectionNav section="gear" viewer={viewer} siteId={site.id} />
      <div className="grid gap-8 px-4 pb-8 desk:grid-cols-3 desk:px-8">
        {DUTIES.map((duty) => (
          <section key={duty}>
            <h2 className="type-section border-b-2 border-ink pb-1">{t(`duties.${duty}`)}</h2>
            {page.duties[duty].length === 0 ? <p className="py-2">{t('nobody')}</p> : null}
            <ul>
              {page.duties[duty].map((one) => (
                <Person key={one.id} one={one} />
              ))}
            </ul>
          </section>
        ))}
      </div>
      <div className="grid gap-10 px-4 pb-8 desk:grid-cols-2 desk:px-8">
        <AssignedPart siteId={site.id} page={page} />
        <VisitorsPart siteId={site.id} page={page} prefs={prefs} />
      </div>
      <ListFiles lists={['assignments', 'visitors']} query={{ site: site.id }} />
    </>
  )
}

async function Person({ one }: Readonly<{ one: OnDuty }>) {
  const t = await getTranslations('people.today')
  return (
    <li className="flex items-start gap-3 border-b border-rule py-2">
      <span className={one.may ? '' : 'text-heat'}>
        <AnswerMark name={one.may ? 'done' : 'refused'} />
      </span>
      <span>
        <span className="block">
          {one.name}
          {one.firm ? <span className="text-ink-2"> {t('ofFirm', { firm: one.firm })}</span> : null}
        </span>
        {one.reasons.map((reason) => (
          <span key={reason} className="block font-[600] text-heat">
            {t(`reasons.${reason}`)}
          </span>
        ))}
        {one.note ? <span className="block text-ink-2">{t(`notes.${one.note}`)}</span> : null}
      </span>
    </li>
  )
}

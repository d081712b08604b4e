import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { PlainRow } from '@/app/_components/row'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { listIncidents } from '@/lib/data/incidents'
import { formatDayClock } from '@/lib/format/clock'

type IncidentsProps = Readonly<{ searchParams: Promise<{ site?: string | string[] }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('incidents'))('title') }
}

export default async function IncidentsPage({ searchParams }: IncidentsProps) {
  const viewer = await requireViewer()
  const { site, incidents, canRecord } = await found(
    listIncidents(viewer, (await searchParams).site),
  )
  const t = await getTranslations('incidents')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const where = <SiteSwitch site={site} others={site.others} path="/incidents" />
  const open = incidents.filter((one) => !one.isClosed).length
  const add = canRecord ? (
    <ButtonLink kind="main" isWide href={`/incidents/new?site=${site.id}`}>
      {t('record')}
    </ButtonLink>
  ) : null
  return (
    <>
      <PhoneHead title={t('title')} where={where} backHref="/me" />
      <DeskPageHead
        title={t('title')}
        sentence={
          <>
            {where}. <b>{t('open', { count: open })}</b>
          </>
        }
        actions={add}
      />
      <SectionNav section="gear" viewer={viewer} siteId={site.id} />
      <div className="desk:px-8">
        {incidents.length === 0 ? <p className="state">{t('none')}</p> : null}
        <ul className="plain-rows">
          {incidents.map((one) => (
            <PlainRow
              key={one.id}
              href={`/incidents/${one.id}`}
              title={`${t(`kinds.${one.kind}`)}: ${one.what}`}
              note={`${formatDayClock(one.happenedAt, prefs)}, ${one.areaName}`}
              aside={t(one.isClosed ? 'states.closed' : 'states.open')}
              isQuiet={one.isClosed}
            />
          ))}
        </ul>
      </div>
      {add ? <div className="thumb desk:hidden!">{add}</div> : null}
      <ListFiles lists={['incidents']} query={{ site: site.id }} />
    </>
  )
}

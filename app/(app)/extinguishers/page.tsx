import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { listExtinguishers } from '@/lib/data/gear/extinguishers'
import { resolveSite } from '@/lib/data/sites'
import { ExtinguisherForm, ExtinguisherList } from './extinguisher-forms'

type PageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('extinguishers'))('title') }
}

export default async function ExtinguishersScreen({ searchParams }: PageProps) {
  const viewer = await requireViewer()
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const page = await found(listExtinguishers(viewer, site.id))
  const t = await getTranslations('extinguishers')
  const place = <SiteSwitch site={site} others={site.others} path="/extinguishers" />
  return (
    <>
      <PhoneHead title={t('title')} where={place} backHref="/people" />
      <DeskPageHead title={t('title')} sentence={place} />
      <SectionNav section="gear" viewer={viewer} siteId={site.id} />
      <div className="grid gap-10 px-4 pb-8 desk:grid-cols-[2fr_1fr] desk:px-8">
        <div>
          <p className="type-note py-2 text-ink-2">{t('source')}</p>
          <ExtinguisherList page={page} />
        </div>
        {page.can.write ? <ExtinguisherForm siteId={site.id} /> : null}
      </div>
      <ListFiles lists={['extinguishers']} query={{ site: site.id }} />
    </>
  )
}

import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { Column, DataTable } from '@/app/_components/data-table'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { getTipsWanted } from '@/lib/data/gear/tips'
import { resolveSite } from '@/lib/data/sites'
import { formatQuantity, joinQuantity } from '@/lib/format/quantity'

type TipsProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('outfits.tips'))('title') }
}

export default async function TipsScreen({ searchParams }: TipsProps) {
  const viewer = await requireViewer()
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const page = await found(getTipsWanted(viewer, site.id))
  const t = await getTranslations('outfits.tips')
  const place = <SiteSwitch site={site} others={site.others} path="/outfits/tips" />
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  return (
    <>
      <PhoneHead title={t('title')} where={place} backHref="/people" />
      <DeskPageHead title={t('title')} sentence={place} />
      <SectionNav section="gear" viewer={viewer} siteId={site.id} />
      <div className="px-4 pb-8 desk:max-w-[760px] desk:px-8">
        <DataTable
          caption={t('title')}
          head={
            <>
              <Column>{t('size')}</Column>
              <Column isFigure>{t('cuts')}</Column>
              <Column isFigure>{t('held')}</Column>
            </>
          }
        >
          <tbody>
            {page.sizes.map((size) => (
              <tr key={size.orificeM}>
                <th scope="row">{joinQuantity(formatQuantity('orifice', size.orificeM, prefs))}</th>
                <td className="is-figure">{size.cuts}</td>
                <td className={`is-figure ${size.held === 0 ? 'is-trouble' : ''}`}>
                  {size.held === 0 ? t('none') : size.held}
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
        {page.sizes.length === 0 ? <p className="py-3">{t('nothing')}</p> : null}
        <p className="type-note pt-3 text-ink-2">
          {t('from', {
            jobs: page.jobs.map((job) => job.number).join(', '),
            without: page.without,
          })}
        </p>
      </div>
      <ListFiles lists={['tips']} query={{ site: site.id }} />
    </>
  )
}

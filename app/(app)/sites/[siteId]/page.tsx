import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { PlainRow } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import { getPlace } from '@/lib/data/places'
import { zoneNames } from '@/lib/format/zone'
import { SiteForm } from '../site-form'

type SitePageProps = Readonly<{ params: Promise<{ siteId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('places'))('title') }
}

export default async function SiteScreen({ params }: SitePageProps) {
  const viewer = await requireViewer()
  const { siteId } = await params
  const { site, areas } = await found(getPlace(viewer, siteId))
  const t = await getTranslations('places')
  return (
    <>
      <PhoneHead title={site.name} where={t('title')} backHref="/people" />
      <DeskPageHead title={site.name} sentence={t('title')} />
      <div className="grid gap-10 px-4 py-2 desk:max-w-[1100px] desk:grid-cols-2 desk:px-8">
        <SiteForm site={site} likes={[]} zones={zoneNames(site.zone)} firstZone={site.zone} />
        <section>
          <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('areas')}</h2>
          {areas.length === 0 ? <p className="text-ink-2">{t('noAreas')}</p> : null}
          <ul className="plain-rows mb-4">
            {areas.map((area) => (
              <PlainRow
                key={area.id}
                href={`/sites/${site.id}/area?area=${area.id}`}
                title={area.name}
                note={t('areaNote', {
                  areaClass: t(`classes.${area.areaClass as 'permit'}`),
                  posts: area.posts.map((post) => post.name).join(', '),
                })}
              />
            ))}
          </ul>
          <ButtonLink href={`/sites/${site.id}/area`}>{t('addArea')}</ButtonLink>
          {areas.some((area) => area.posts.some((post) => post.code)) ? (
            <p className="mt-3">
              <ButtonLink href={`/sites/${site.id}/posts`}>{t('postLabels')}</ButtonLink>
            </p>
          ) : null}
          <p className="mt-3">
            <ButtonLink href={`/rules?site=${site.id}`}>{t('rules')}</ButtonLink>
          </p>
        </section>
      </div>
    </>
  )
}

import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { Qr } from '@/app/_components/qr'
import { requireViewer } from '@/lib/auth/viewer'
import { getPlace } from '@/lib/data/places'
import { PrintButton } from '../../../permits/[permitId]/record/print-button'
import './posts.css'

type PostsPageProps = Readonly<{ params: Promise<{ siteId: string }> }>

const QR_MM = 34

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('places.labels'))('title') }
}

/** What hangs at the posts of a site that carry codes. */
export default async function PostsScreen({ params }: PostsPageProps) {
  const viewer = await requireViewer()
  const { site, areas } = await found(getPlace(viewer, (await params).siteId))
  const t = await getTranslations('places.labels')
  const labels = areas.flatMap((area) =>
    area.posts.flatMap(({ name, code }) => (code ? [{ area: area.name, name, code }] : [])),
  )
  return (
    <>
      <div className="not-printed">
        <PhoneHead title={t('title')} where={site.name} backHref={`/sites/${site.id}`} />
        <DeskPageHead title={t('title')} sentence={site.name} />
        <div className="flex flex-wrap items-center gap-3 px-4 py-3 desk:px-8">
          {labels.length === 0 ? (
            <p>{t('none')}</p>
          ) : (
            <>
              <PrintButton kind="main">{t('print')}</PrintButton>
              <p className="type-note text-ink-2">{t('note')}</p>
            </>
          )}
        </div>
      </div>
      <ul className="post-labels desk:mx-4">
        {labels.map(({ area, name, code }) => (
          <li key={code} className="post-label">
            <Qr text={code} label={code} sizeMm={QR_MM} />
            <div>
              <b>{name}</b>
              <span>
                {area}, {site.name}
              </span>
              <span className="type-ident">{code}</span>
              <span>{t('how')}</span>
            </div>
          </li>
        ))}
      </ul>
    </>
  )
}

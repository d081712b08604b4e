import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ActPage, readScene } from '../act-page'
import { HoldForm } from './hold-form'

type HoldPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.hold'))('title') }
}

export default async function HoldPage({ params }: HoldPageProps) {
  const scene = await readScene((await params).permitId)
  const t = await getTranslations('permit.hold')
  const { head, can, isEnclosed, people, watchMin } = scene.view
  return (
    <ActPage scene={scene} title={t('title')}>
      {head.state !== 'open' ? <p>{t('notOpen')}</p> : null}
      {head.state === 'open' && !can.hold ? <p>{t('notYours')}</p> : null}
      {head.state === 'open' && can.hold ? (
        <HoldForm
          permitId={head.id}
          version={head.version}
          isEnclosed={isEnclosed}
          watcher={people.watcher}
          watchMin={watchMin}
        />
      ) : null}
    </ActPage>
  )
}

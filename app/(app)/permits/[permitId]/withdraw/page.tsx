import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ActPage, readScene } from '../act-page'
import { WithdrawForm } from './withdraw-form'

type WithdrawPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.withdraw'))('title') }
}

export default async function WithdrawPage({ params }: WithdrawPageProps) {
  const scene = await readScene((await params).permitId)
  const t = await getTranslations('permit.withdraw')
  const { head, can } = scene.view
  const isBefore = head.state === 'preparing' || head.state === 'cleared'
  return (
    <ActPage scene={scene} title={t('title')}>
      {!isBefore ? <p>{t('tooLate')}</p> : null}
      {isBefore && !can.withdraw ? <p>{t('notYours')}</p> : null}
      {isBefore && can.withdraw ? <WithdrawForm permitId={head.id} version={head.version} /> : null}
    </ActPage>
  )
}

import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { formatClock } from '@/lib/format/clock'
import { ActPage, type ActScene, readScene } from '../act-page'
import { EndForm } from './end-form'

type EndPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.end'))('title') }
}

export default async function EndPage({ params }: EndPageProps) {
  const scene = await readScene((await params).permitId)
  const t = await getTranslations('permit.end')
  const { head, can } = scene.view
  const isRunning = head.state === 'open' || head.state === 'held'
  return (
    <ActPage scene={scene} title={t('title')}>
      {!isRunning ? <p>{t('notRunning')}</p> : null}
      {isRunning && !can.endWork ? <p>{t('notYours')}</p> : null}
      {isRunning && can.endWork ? (
        <>
          {head.state === 'open' ? (
            <p className="mb-2 type-note">
              {t('logFirst')}{' '}
              <Link className="text-link" href={`/permits/${head.id}/log`}>
                {t('log')}
              </Link>
            </p>
          ) : null}
          <EndForm permitId={head.id} version={head.version} words={await follows(scene)} />
        </>
      ) : null}
    </ActPage>
  )
}

/** What comes after: a watch from this minute, or from the minute the torch went out in the hold. */
async function follows({ view, prefs }: ActScene): Promise<string> {
  const t = await getTranslations('permit.end')
  const { watchMin, people, torchOutAt, head } = view
  if (watchMin === 0) return t('thenLook')
  if (head.state === 'held' && torchOutAt)
    return t('thenWatchHeld', {
      minutes: watchMin,
      name: people.watcher,
      time: formatClock(torchOutAt, prefs),
    })
  return t('thenWatch', { minutes: watchMin, name: people.watcher })
}

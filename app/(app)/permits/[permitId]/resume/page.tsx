import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { formatClock } from '@/lib/format/clock'
import { ActPage, type ActScene, readScene } from '../act-page'
import { LookForm } from './look-form'
import { ResumeForm } from './resume-form'

type ResumePageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.resume'))('title') }
}

export default async function ResumePage({ params }: ResumePageProps) {
  const scene = await readScene((await params).permitId)
  const t = await getTranslations('permit.resume')
  const { head, can } = scene.view
  const isOut = head.state === 'held' || head.state === 'watch'
  return (
    <ActPage scene={scene} title={t('title')}>
      {!isOut ? <p>{t('notHeld')}</p> : null}
      {isOut && !can.resume ? <p>{t('notYours')}</p> : null}
      {isOut && can.resume ? <Steps scene={scene} /> : null}
    </ActPage>
  )
}

async function Steps({ scene }: Readonly<{ scene: ActScene }>) {
  const t = await getTranslations('permit.resume')
  const { view, hands, prefs } = scene
  const { head, lookedAgainAt, gas, outfit, isGearDue } = view
  const isAirGood = gas.status === 'good' || gas.status === 'not_needed'
  const pais = hands
    .filter(
      (hand) =>
        hand.roles.includes('pai') &&
        hand.qualifiedAs.includes('pai') &&
        hand.id !== view.people.operatorId,
    )
    .map(({ id, name }) => ({ value: id, label: name }))
  return (
    <ol className="grid gap-6">
      <li>
        <h2 className="type-section mb-2">{t('lookFirst')}</h2>
        {lookedAgainAt ? (
          <p className="flex items-center gap-3">
            <AnswerMark name="done" />
            {t('looked', { time: formatClock(lookedAgainAt, prefs) })}
          </p>
        ) : (
          <LookForm permitId={head.id} version={head.version} />
        )}
      </li>
      <li>
        <h2 className="type-section mb-2">{t('air')}</h2>
        <p className="flex items-center gap-3">
          <AnswerMark name={isAirGood ? 'done' : 'to-answer'} />
          {gas.status === 'good' && gas.expiresAt
            ? t('airGood', { time: formatClock(gas.expiresAt, prefs) })
            : t(`gas.${gas.status}`)}
        </p>
        {isAirGood ? null : (
          <p className="mt-2">
            <Link className="text-link" href={`/permits/${head.id}/gas-test`}>
              {t('takeTest')}
            </Link>
          </p>
        )}
      </li>
      {outfit && (isGearDue || !outfit.isInService) ? (
        <li>
          <h2 className="type-section mb-2">{t('gear')}</h2>
          <p className="flex items-center gap-3">
            <AnswerMark name="to-answer" />
            {t(outfit.isInService ? 'gearDue' : 'gearOut', { outfit: outfit.number })}
          </p>
          <p className="mt-2">
            <Link className="text-link" href={`/outfits/${outfit.id}`}>
              {t('lookAtGear')}
            </Link>
          </p>
        </li>
      ) : null}
      <li>
        <h2 className="type-section mb-2">{t('signs')}</h2>
        <ResumeForm
          permitId={head.id}
          version={head.version}
          contentHash={head.contentHash}
          pais={pais}
          from={head.state === 'watch' ? 'watch' : 'hold'}
        />
      </li>
    </ol>
  )
}

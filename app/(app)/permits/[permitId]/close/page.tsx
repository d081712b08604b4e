import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import type { ReactNode } from 'react'
import { DangerSlab } from '@/app/_components/danger/danger-slab'
import { found } from '@/app/_components/found'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { requireViewer } from '@/lib/auth/viewer'
import { listPermitHands, type SiteHand } from '@/lib/data/permits/people'
import { getWatch, type WatchView } from '@/lib/data/watch/view'
import { formatClock, formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { PermitFrame } from '../frame'
import { ReasonRows } from '../reason-rows'
import { FinalForm, LookForm, RestoreForm, StatementForm } from './duty-forms'

type ClosePageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('watch.close'))('title') }
}

export default async function ClosePage({ params }: ClosePageProps) {
  const viewer = await requireViewer()
  const view = await found(getWatch(viewer, (await params).permitId))
  const { head } = view
  if (head.state === 'closed') redirect(`/permits/${head.id}/record`)
  if (head.state !== 'watch') redirect(`/permits/${head.id}`)
  const hands = await listPermitHands(viewer, head.siteId, view.day)
  const t = await getTranslations('watch.close')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
  return (
    <PermitFrame
      head={head}
      prefs={prefs}
      title={t('title')}
      backHref={`/permits/${head.id}/watch`}
    >
      <div className="desk:max-w-[560px] desk:px-8">
        {view.owed.length > 0 ? (
          <ReasonRows title={(count) => t('owed', { count })} reasons={view.owed} prefs={prefs} />
        ) : (
          <p className="type-row-title border-b border-rule px-4 py-3 desk:px-0">
            {t('nothingOwed')}
          </p>
        )}
        {view.can.close ? (
          <Steps view={view} hands={hands} prefs={prefs} />
        ) : (
          <p className="px-4 py-3 text-ink-2 desk:px-0">{t('notYours')}</p>
        )}
      </div>
      <DangerSlab kind="smoke" permitId={head.id} whomToCall={view.emergencyWords || undefined} />
    </PermitFrame>
  )
}

type StepsProps = Readonly<{ view: WatchView; hands: readonly SiteHand[]; prefs: FormatPrefs }>

async function Steps({ view, hands, prefs }: StepsProps) {
  const t = await getTranslations('watch.close')
  const { survey, monitoring, finalLook, statement, impairments, signedOff, owed, now } = view
  const on = { permitId: view.head.id, version: view.head.version }
  const pais = hands.filter(
    (hand) => hand.roles.includes('pai') && hand.qualifiedAs.includes('pai'),
  )
  const asOption = ({ id, name }: Readonly<{ id: string; name: string }>) => ({
    value: id,
    label: name,
  })
  const lookDone =
    finalLook.doneAt !== null && finalLook.from !== null && finalLook.doneAt >= finalLook.from
  return (
    <ol>
      {impairments.map((one) => (
        <Step
          key={one.id}
          title={one.label}
          doneWords={
            one.restoredAt ? t('backAt', { time: formatClock(one.restoredAt, prefs) }) : null
          }
        >
          <RestoreForm {...on} impairmentId={one.id} label={one.label} />
        </Step>
      ))}
      {survey ? (
        <Step
          title={t('survey', { minutes: survey.leavesMin })}
          doneWords={
            survey.doneAt ? t('doneAt', { time: formatClock(survey.doneAt, prefs) }) : null
          }
        >
          <LookForm {...on} kind="surveyed" />
        </Step>
      ) : null}
      {monitoring.minutes > 0 ? (
        <Step
          title={t('monitoring', { minutes: monitoring.minutes })}
          doneWords={
            monitoring.doneAt ? t('doneAt', { time: formatClock(monitoring.doneAt, prefs) }) : null
          }
        >
          <When at={monitoring.until} now={now} prefs={prefs} />
          <LookForm {...on} kind="monitored" />
        </Step>
      ) : null}
      <Step
        title={t('finalLook')}
        doneWords={
          lookDone && finalLook.doneAt
            ? t('doneAt', { time: formatClock(finalLook.doneAt, prefs) })
            : null
        }
      >
        <When at={finalLook.from} now={now} prefs={prefs} />
        <LookForm {...on} kind="finalLook" />
      </Step>
      {statement.isRequired ? (
        <Step
          title={t('statement')}
          doneWords={
            statement.doneAt ? t('doneAt', { time: formatClock(statement.doneAt, prefs) }) : null
          }
        >
          <StatementForm {...on} />
        </Step>
      ) : null}
      {view.stoodWatch.length > 0 ? (
        <Step
          title={t('signOff')}
          doneWords={
            signedOff
              ? t('signedBy', { name: signedOff.name, time: formatClock(signedOff.at, prefs) })
              : null
          }
        >
          <FinalForm
            {...on}
            contentHash={view.head.contentHash}
            part="signOff"
            people={view.stoodWatch.map(asOption)}
            isMain={owed.length === 0}
          />
        </Step>
      ) : null}
      <Step title={t('close')} doneWords={null}>
        <FinalForm
          {...on}
          contentHash={view.head.contentHash}
          part="close"
          people={pais.map(asOption)}
          isMain={owed.length === 0 && signedOff !== null}
        />
      </Step>
    </ol>
  )
}

/** One duty: done it is a quiet line, to do it is its form. */
function Step({
  title,
  doneWords,
  children,
}: Readonly<{ title: string; doneWords: string | null; children: ReactNode }>) {
  return (
    <li className="border-b border-rule px-4 py-3 desk:px-0">
      <h2 className="type-section mb-2 flex items-center gap-2">
        <AnswerMark name={doneWords ? 'done' : 'to-answer'} />
        {title}
      </h2>
      {doneWords ? <p className="ml-6 text-ink-2">{doneWords}</p> : children}
    </li>
  )
}

async function When({
  at,
  now,
  prefs,
}: Readonly<{ at: Date | null; now: Date; prefs: FormatPrefs }>) {
  const t = await getTranslations('watch.close')
  if (!at || at <= now) return null
  return (
    <p className="type-note mb-2 text-ink-2">{t('from', { time: formatWhen(at, now, prefs) })}</p>
  )
}

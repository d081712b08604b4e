'use client'

import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { useEffect, useRef, useState } from 'react'
import { formatClock } from '@/lib/format/clock'
import { usePrefs } from '../live/prefs'
import { SlabFace } from './slab-face'
import type { StopAnswer } from './stop-route'
import type { useStop } from './use-stop'

/** The finger that held must not also stop for good: the slab counts only after this. */
const DEAF_MS = 300

type StopSheetProps = Readonly<{
  answer: StopAnswer
  stop: ReturnType<typeof useStop>
  goBack: ReactNode
  onLeave: () => void
}>

/** Comes up once the permit is held. It does not leave by itself; left, the permit stays held. */
export function StopSheet({ answer, stop, goBack, onLeave }: StopSheetProps) {
  const t = useTranslations('kit.slab')
  const dialog = useRef<HTMLDialogElement>(null)
  const openedAt = useRef(0)
  const [isGoingBack, setIsGoingBack] = useState(false)
  useEffect(() => {
    dialog.current?.showModal()
    openedAt.current = performance.now()
  }, [])

  const stopForGood = async (event: { readonly timeStamp: number }) => {
    if (event.timeStamp - openedAt.current < DEAF_MS) return
    const outcome = await stop.press('stop')
    if (outcome?.ok) onLeave()
  }
  return (
    <dialog
      ref={dialog}
      className="stop-sheet"
      onClose={onLeave}
      aria-labelledby="stop-sheet-title"
    >
      <div className="stop-sheet-words">
        <SheetWords answer={answer} />
        {goBack && isGoingBack ? goBack : null}
        {goBack && !isGoingBack ? (
          <button type="button" className="btn" onClick={() => setIsGoingBack(true)}>
            {t('goBack')}
          </button>
        ) : null}
        {goBack ? <p className="type-note text-ink-2">{t('goBackNote')}</p> : null}
        <p className="type-note text-ink-2">
          {t('staysHeld')}{' '}
          <button type="button" className="text-link" onClick={() => dialog.current?.close()}>
            {t('leave')}
          </button>
        </p>
        <p role="alert" className="field-error">
          {stop.failed ? t(stop.failed.trouble === 'refused' ? 'refused' : 'notSent') : null}
        </p>
      </div>
      <button
        type="button"
        className="slab slab-second"
        onClick={stopForGood}
        aria-busy={stop.sending === 'stop' || undefined}
      >
        <SlabFace title={t('forGood')} lines={[t('forGoodLine')]} isSecond />
      </button>
    </dialog>
  )
}

function SheetWords({ answer }: Readonly<{ answer: StopAnswer }>) {
  const t = useTranslations('kit.slab')
  const prefs = usePrefs()
  const unseen = answer.rang
    .filter((person) => person.seenAtMs === null)
    .map((person) => person.name)
  const seen = answer.rang.filter((person) => person.seenAtMs !== null)
  return (
    <>
      <h2 id="stop-sheet-title">{t('held', { time: formatClock(answer.atMs, prefs) })}</h2>
      <p className="type-row-title">
        {unseen.length > 0 ? t('shoutNotSeen', { names: unseen.join(', ') }) : t('shout')}
      </p>
      {answer.watchUntilMs === null || answer.watchMinutes === null ? null : (
        <p className="text-ink-2">
          {t('watchStarted', {
            minutes: answer.watchMinutes,
            time: formatClock(answer.watchUntilMs, prefs),
          })}
        </p>
      )}
      {seen.map((person) => (
        <p key={person.name} className="text-ink-2">
          {t('saw', {
            name: person.name,
            time: formatClock(person.seenAtMs ?? answer.atMs, prefs),
          })}
        </p>
      ))}
    </>
  )
}

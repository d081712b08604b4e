'use client'

import { useTranslations } from 'next-intl'
import { useEffect, useRef, useState } from 'react'
import { aboutDurationParts, durationParts } from '@/lib/format/duration'
import { NumberParts } from '../number-parts'
import { crossedMark } from './next-tick'
import { useServerNow } from './server-now'

type CountdownProps = Readonly<{
  untilMs: number
  /** Said before the time in live announcements: "Fire watch, deck 2". */
  what: string
  size?: 'watch' | 'permit' | 'row' | 'desk'
  /** A word after it, as "left" on a permit. */
  after?: string
  /** The end is not certain: "about" stands before it. */
  isAbout?: boolean
  /** One of a list's countdowns may announce itself; the others stay quiet. */
  isAnnounced?: boolean
}>

/** What is left by the server's clock. Says 10, 5 and 1 minutes and the end, never each minute. */
export function Countdown({
  untilMs,
  what,
  size = 'row',
  after,
  isAbout = false,
  isAnnounced = false,
}: CountdownProps) {
  const t = useTranslations('kit.countdown')
  const nowMs = useServerNow(untilMs)
  const leftMs = Math.max(0, untilMs - nowMs)
  const parts = isAbout ? aboutDurationParts(leftMs) : durationParts(leftMs)
  return (
    <>
      <NumberParts
        parts={parts}
        size={size}
        before={isAbout ? t('about') : undefined}
        after={after}
      />
      {isAnnounced ? <Announcement what={what} leftMs={leftMs} /> : null}
    </>
  )
}

function Announcement({ what, leftMs }: Readonly<{ what: string; leftMs: number }>) {
  const t = useTranslations('kit.countdown')
  const wasLeftMs = useRef(leftMs)
  const [said, setSaid] = useState('')
  useEffect(() => {
    const mark = crossedMark({ wasLeftMs: wasLeftMs.current, leftMs })
    wasLeftMs.current = leftMs
    if (mark !== null)
      setSaid(mark === 0 ? t('over', { what }) : t('left', { what, minutes: mark }))
  }, [leftMs, what, t])
  return (
    <span className="sr-only" role="status">
      {said}
    </span>
  )
}

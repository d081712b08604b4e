'use client'

import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { useEffect, useRef, useState } from 'react'
import type { Alarm } from '@/lib/data/today/alarms'
import { joinLiveStream } from '../_components/live/live-stream'
import { useClockMeasure } from '../_components/live/server-now'
import { SeenForm } from './today/seen-form'

const RING_MS = [400, 150, 400, 150, 800]
const TONE_HZ = 880
const AGAIN_MS = 20_000

async function readAlarms(): Promise<readonly Alarm[] | null> {
  try {
    const response = await fetch('/api/live/alarms', { cache: 'no-store' })
    const body: unknown = await response.json()
    const isList =
      typeof body === 'object' && body !== null && 'alarms' in body && Array.isArray(body.alarms)
    return isList ? (body.alarms as Alarm[]) : null
  } catch {
    return null // no signal: the strip above says so
  }
}

/** Sound and vibration, as far as the device lets a page: never a light that blinks. */
function ring(): void {
  navigator.vibrate?.(RING_MS)
  try {
    const audio = new AudioContext()
    const tone = audio.createOscillator()
    tone.frequency.value = TONE_HZ
    tone.connect(audio.destination)
    tone.start()
    tone.stop(audio.currentTime + 1.2)
    tone.onended = () => void audio.close()
  } catch {
    // A browser without sound still shows the words.
  }
}

/** Rings on whatever page is open when somebody at the person's sites stops work or sees smoke. */
export function CrewAlarm() {
  const t = useTranslations('today.alarm')
  const [alarms, setAlarms] = useState<readonly Alarm[]>([])
  const rung = useRef(new Set<string>())
  const { drawnMs, measured } = useClockMeasure()
  const drawn = useRef(drawnMs)

  useEffect(() => {
    let isGone = false
    const look = async () => {
      const read = await readAlarms()
      if (read === null || isGone) return
      if (read.some((alarm) => !rung.current.has(alarm.id))) ring()
      for (const alarm of read) rung.current.add(alarm.id)
      setAlarms(read)
    }
    void look()
    const stream = joinLiveStream({ changed: () => void look(), measured }, drawn.current)
    // Where the stream is lost an alarm may still not wait for it.
    const timer = setInterval(() => {
      if (!document.hidden || !stream.isAlive()) void look()
    }, AGAIN_MS)
    return () => {
      isGone = true
      stream.leave()
      clearInterval(timer)
    }
  }, [measured])

  return (
    <div role="alert">
      {alarms.map((alarm) => (
        <div
          key={alarm.id}
          className="flex items-center gap-3 border-b-2 border-heat px-4 py-2 desk:px-8"
        >
          <p className="min-w-0 flex-1 text-[16px] leading-5 font-[650]">
            <Link
              href={`/permits/${alarm.permitId}`}
              className="text-heat underline underline-offset-4"
            >
              {t(alarm.kind, { number: alarm.number, area: alarm.areaName })}
            </Link>
            <span className="block font-normal">
              {alarm.kind === 'smoke' ? t('call', { words: alarm.emergencyWords }) : t('torchOut')}
            </span>
          </p>
          <SeenForm
            noticeId={alarm.id}
            onSeen={() => setAlarms((was) => was.filter((one) => one.id !== alarm.id))}
          />
        </div>
      ))}
    </div>
  )
}

'use client'

import { useTranslations } from 'next-intl'
import { useEffect, useRef, useState } from 'react'
import { Button } from '../controls/button'
import { wakeSound } from './beep'
import { openReader } from './read-codes'

const LOOK_EVERY_MS = 150
/** The same code in front of the camera counts once until it has been away this long. */
const SAME_AGAIN_AFTER_MS = 2_500

type State = 'off' | 'opening' | 'on' | 'refused'
type ScannerProps = Readonly<{ onCode: (code: string) => void }>

/** The phone's camera, many codes in a row. The boxes beside it do the same by hand. */
export function Scanner({ onCode }: ScannerProps) {
  const t = useTranslations('scan')
  const video = useRef<HTMLVideoElement>(null)
  const latest = useRef(onCode)
  const [state, setState] = useState<State>('off')
  const isWanted = state === 'opening' || state === 'on'

  useEffect(() => {
    latest.current = onCode
  }, [onCode])

  useEffect(() => {
    if (!isWanted) return
    let isOver = false
    let stream: MediaStream | null = null
    const seen = new Map<string, number>()
    const look = async () => {
      const [camera, read] = await Promise.all([
        navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } }),
        openReader(),
      ])
      stream = camera
      if (isOver || !video.current) return stop(camera)
      video.current.srcObject = camera
      await video.current.play()
      setState('on')
      while (!isOver && video.current) {
        const now = Date.now()
        for (const code of await read(video.current).catch(() => [])) {
          const last = seen.get(code) ?? 0
          seen.set(code, now)
          if (now - last > SAME_AGAIN_AFTER_MS) latest.current(code)
        }
        await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS))
      }
    }
    look().catch(() => {
      if (!isOver) setState('refused')
    })
    return () => {
      isOver = true
      if (stream) stop(stream)
    }
  }, [isWanted])

  const press = () => {
    wakeSound()
    setState(isWanted ? 'off' : 'opening')
  }
  return (
    <div className="grid gap-3">
      {isWanted ? (
        <video
          ref={video}
          muted
          playsInline
          aria-label={t('camera')}
          className="w-full border-2 border-ink desk:max-w-[480px]"
        />
      ) : null}
      <Button onClick={press}>{t(isWanted ? 'stopCamera' : 'startCamera')}</Button>
      <p role="status" className="field-note">
        {state === 'opening' ? t('opening') : state === 'refused' ? t('noCamera') : null}
      </p>
    </div>
  )
}

function stop(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop()
}

'use client'

import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { useState } from 'react'
import { useOfflineSince } from '../live/use-online'
import { SlabFace } from './slab-face'
import { StopSheet } from './stop-sheet'
import { useStop } from './use-stop'

type DangerSlabProps = Readonly<
  {
    permitId: string
    /** Where it sends to; without it, the permit's own routes. */
    route?: string
  } & (
    | {
        kind: 'stop'
        /** The form that takes a hold back, with the operator's or foreman's PIN; shown on "Not stopped, go back". */
        goBack?: ReactNode
      }
    | {
        kind: 'smoke'
        /** The site's own words for whom to call first; without them, "Call 911." */
        whomToCall?: string | undefined
      }
  )
>

/** The one red control. The first press acts at once; only ending it for good is a second step. */
export function DangerSlab(props: DangerSlabProps) {
  const { permitId, kind } = props
  const t = useTranslations('kit.slab')
  const offlineSince = useOfflineSince()
  const stop = useStop(props.route ?? `/api/permits/${encodeURIComponent(permitId)}`)
  const [isSheetOpen, setIsSheetOpen] = useState(false)

  const press = async () => {
    const outcome = await stop.press(kind === 'stop' ? 'hold' : 'smoke')
    if (outcome?.ok && kind === 'stop') setIsSheetOpen(true)
  }
  const lines = kind === 'stop' ? [t('stopLine')] : [props.whomToCall ?? t('call'), t('smokeLine')]
  const said = saidOf({ stop, offlineSince })
  return (
    <div className="slab-holder">
      <p className={said ? 'slab-said' : 'sr-only'} role="alert">
        {said ? t(said) : null}
      </p>
      <button
        type="button"
        className={`slab ${kind === 'smoke' ? 'slab-two-lines' : ''}`}
        onClick={press}
        aria-busy={stop.sending !== null || undefined}
      >
        <SlabFace title={t(kind === 'stop' ? 'stop' : 'smoke')} lines={lines} />
      </button>
      {isSheetOpen && stop.answer ? (
        <StopSheet
          answer={stop.answer}
          stop={stop}
          goBack={kind === 'stop' ? props.goBack : undefined}
          onLeave={() => setIsSheetOpen(false)}
        />
      ) : null}
    </div>
  )
}

type Said = 'sending' | 'refused' | 'notSent' | 'rang' | 'offline'

function saidOf({
  stop,
  offlineSince,
}: {
  stop: ReturnType<typeof useStop>
  offlineSince: number | null
}): Said | null {
  if (stop.sending) return 'sending'
  if (stop.failed) return stop.failed.trouble === 'refused' ? 'refused' : 'notSent'
  if (stop.answer?.state === 'watch') return 'rang'
  return offlineSince === null ? null : 'offline'
}

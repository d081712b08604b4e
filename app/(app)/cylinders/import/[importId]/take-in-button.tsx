'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { v4 as newId } from 'uuid'
import { Button } from '@/app/_components/controls/button'
import { takeImportBatchAction } from './actions'

type TakeInButtonProps = Readonly<{ importId: string; left: number }>

/** Batch after batch until nothing is left. Broken off, it goes on from the last whole batch. */
export function TakeInButton({ importId, left }: TakeInButtonProps) {
  const t = useTranslations('fleetImport')
  const router = useRouter()
  const [remaining, setRemaining] = useState(left)
  const [state, setState] = useState<'rests' | 'runs' | 'stopped'>('rests')
  const takeAll = async () => {
    setState('runs')
    try {
      for (let rest = remaining; rest > 0; ) {
        const form = new FormData()
        form.set('key', newId())
        form.set('importId', importId)
        const result = await takeImportBatchAction(null, form)
        if (!result.ok) return setState('stopped')
        rest = result.data.left
        setRemaining(rest)
      }
      setState('rests')
    } catch {
      setState('stopped')
    }
    router.refresh()
  }
  return (
    <div className="flex flex-col gap-2 desk:max-w-[420px]">
      {remaining > 0 ? (
        <Button kind="main" onClick={() => void takeAll()} isWaiting={state === 'runs'}>
          {t('takeIn', { count: remaining })}
        </Button>
      ) : null}
      <p role="status" className="field-note">
        {state === 'stopped'
          ? t('stopped', { count: remaining })
          : state === 'runs'
            ? t('running', { count: remaining })
            : null}
      </p>
    </div>
  )
}

'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { type FormEvent, useState } from 'react'
import { v4 as newId } from 'uuid'
import { Button } from '@/app/_components/controls/button'
import { useReasonWords } from '@/app/_components/form/reason-words'
import type { Reason } from '@/lib/errors'

type Answer =
  | Readonly<{ ok: true; data: { importId: string } }>
  | Readonly<{ ok: false; code: string; params?: Reason['params'] }>

/** A file goes up whole; the server says what is wrong in it before anything is taken in. */
export function UploadForm({ siteId }: Readonly<{ siteId: string }>) {
  const t = useTranslations('fleetImport')
  const say = useReasonWords()
  const router = useRouter()
  const [refused, setRefused] = useState<string | null>(null)
  const [isSending, setIsSending] = useState(false)
  const send = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const box = event.currentTarget.elements.namedItem('file')
    const file = box instanceof HTMLInputElement ? box.files?.[0] : undefined
    if (!file) return setRefused(t('chooseFile'))
    setIsSending(true)
    try {
      const query = new URLSearchParams({ key: newId(), siteId, fileName: file.name })
      const response = await fetch(`/api/uploads/fleet?${query}`, { method: 'POST', body: file })
      const answer = (await response.json()) as Answer
      if (answer.ok) return router.push(`/cylinders/import/${answer.data.importId}`)
      const words = say({ code: answer.code, params: answer.params ?? {} })
      setRefused(`${words.what} ${words.cure ?? ''}`)
    } catch {
      setRefused(t('lost'))
    }
    setIsSending(false)
  }
  return (
    <form onSubmit={send} className="flex flex-col gap-4 desk:max-w-[560px]">
      <div className="field">
        <label className="field-label" htmlFor="fleet-file">
          {t('file')}
        </label>
        <input id="fleet-file" name="file" type="file" accept=".csv,.txt,.tsv,.xlsx" />
        <p className="field-note">{t('fileNote')}</p>
      </div>
      <p role="alert" className={refused ? 'trouble' : ''}>
        {refused}
      </p>
      <Button type="submit" kind="main" isWaiting={isSending}>
        {t('look')}
      </Button>
    </form>
  )
}

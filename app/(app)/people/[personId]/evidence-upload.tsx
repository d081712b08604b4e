'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useId, useRef, useState } from 'react'
import { v4 as newKey } from 'uuid'
import { Button } from '@/app/_components/controls/button'
import { type ReasonWords, useReasonWords } from '@/app/_components/form/reason-words'

type Answer = Readonly<{ ok: boolean; code?: string; params?: Record<string, string | number> }>

/** A card or a certificate, photographed or scanned. The same file pressed twice is one. */
export function EvidenceUpload({ qualificationId }: Readonly<{ qualificationId: string }>) {
  const t = useTranslations('people.papers')
  const router = useRouter()
  const id = useId()
  const say = useReasonWords()
  const input = useRef<HTMLInputElement>(null)
  const key = useRef('')
  const [isSending, setIsSending] = useState(false)
  const [refused, setRefused] = useState<ReasonWords | 'lost' | null>(null)

  const send = async () => {
    const file = input.current?.files?.[0]
    if (!file || isSending) return
    key.current ||= newKey()
    setIsSending(true)
    setRefused(null)
    const about = new URLSearchParams({ key: key.current, qualificationId })
    try {
      const response = await fetch(`/api/uploads/evidence?${about}`, { method: 'POST', body: file })
      const answer = (await response.json()) as Answer
      if (!answer.ok) {
        setRefused(say({ code: answer.code ?? '', params: answer.params ?? {} }))
        return
      }
      key.current = ''
      if (input.current) input.current.value = ''
      router.refresh()
    } catch {
      setRefused('lost') // no answer came: the same press again is safe
    } finally {
      setIsSending(false)
    }
  }

  return (
    <div className="mt-2 flex flex-wrap items-center gap-3">
      <label htmlFor={id} className="type-small">
        {t('choose')}
      </label>
      <input
        id={id}
        ref={input}
        type="file"
        accept="image/jpeg,image/png,application/pdf"
        className="max-w-full min-h-12 desk:min-h-8"
        onChange={() => {
          key.current = ''
        }}
      />
      <Button isWaiting={isSending} onClick={send}>
        {t('send')}
      </Button>
      <p role="alert" className="basis-full font-[600] text-heat">
        {refused === 'lost' ? t('lost') : refused ? `${refused.what} ${refused.cure ?? ''}` : null}
      </p>
    </div>
  )
}

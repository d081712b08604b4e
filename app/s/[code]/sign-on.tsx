'use client'

import { useTranslations } from 'next-intl'
import { type SubmitEvent, useId, useState } from 'react'
import { Button } from '@/app/_components/controls/button'
import { TextField } from '@/app/_components/form/text-field'

/** A visitor signs on to the briefing on their own phone. Nothing looks done before the server says so. */
export function PostedSignOn({ code }: Readonly<{ code: string }>) {
  const t = useTranslations('stopWork.signOn')
  const id = useId()
  const [said, setSaid] = useState('')
  const [isSending, setSending] = useState(false)
  const [filling, setFilling] = useState(0)
  const send = async (event: SubmitEvent<HTMLFormElement>) => {
    event.preventDefault()
    if (isSending) return
    const typed = new FormData(event.currentTarget)
    const name = String(typed.get('name') ?? '').trim()
    if (name.length < 2 || typed.get('briefed') !== 'yes') return setSaid(t('say'))
    setSending(true)
    try {
      const response = await fetch(`/api/s/${encodeURIComponent(code)}/sign-on`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ name, firm: String(typed.get('firm') ?? ''), briefed: 'yes' }),
      })
      setSaid(response.ok ? t('done', { name }) : t('trouble'))
      if (response.ok) setFilling((count) => count + 1)
    } catch {
      setSaid(t('trouble'))
    } finally {
      setSending(false)
    }
  }
  return (
    <details className="border-t border-rule px-4">
      <summary className="text-link flex min-h-12 items-center">{t('title')}</summary>
      <form onSubmit={send} noValidate className="grid gap-3 pb-3">
        <p className="type-note">{t('words')}</p>
        <div key={filling} className="grid gap-3">
          <TextField name="name" label={t('name')} maxLength={80} autoComplete="name" />
          <TextField name="firm" label={t('firm')} maxLength={80} autoComplete="organization" />
          <label htmlFor={id} className="flex min-h-12 items-center gap-3 font-semibold">
            <input id={id} type="checkbox" name="briefed" value="yes" className="h-6 w-6" />
            {t('briefed')}
          </label>
        </div>
        <p role="status" className="type-note font-semibold">
          {said}
        </p>
        <Button type="submit" isWaiting={isSending}>
          {t('send')}
        </Button>
      </form>
    </details>
  )
}

'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useEffect, useState } from 'react'

type Told = Readonly<{ part: number; parts: number }>

/** Each line of the answer is one message. */
async function* messagesOf(response: Response): AsyncGenerator<Record<string, unknown>> {
  const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader()
  let held = ''
  for (;;) {
    const { done, value } = (await reader?.read()) ?? { done: true, value: undefined }
    if (done) return
    const lines = (held + value).split('\n')
    held = lines.pop() ?? ''
    for (const line of lines) yield JSON.parse(line)
  }
}

/** Looks for a better plan while the page is read, says how far it is, and shows it when it is there. */
export function BetterPlan({ query }: Readonly<{ query: string }>) {
  const t = useTranslations('plan')
  const router = useRouter()
  const [told, setTold] = useState<Told | 'lost' | null>(null)
  useEffect(() => {
    const leave = new AbortController()
    const look = async () => {
      const response = await fetch(`/api/plan/solve?${query}`, { signal: leave.signal })
      if (!response.ok) throw new Error(String(response.status))
      for await (const message of messagesOf(response)) {
        if (message.kind === 'progress')
          setTold({ part: Number(message.part), parts: Number(message.parts) })
        if (message.kind === 'done') router.refresh()
      }
    }
    look().catch(() => {
      if (!leave.signal.aborted) setTold('lost')
    })
    return () => leave.abort()
  }, [query, router])
  if (told === 'lost') return <p role="status">{t('solverLost')}</p>
  return <p role="status">{told ? t('solving', told) : t('solverStarts')}</p>
}

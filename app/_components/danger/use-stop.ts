'use client'

import { useRouter } from 'next/navigation'
import { useRef, useState } from 'react'
import { v4 as newKey } from 'uuid'
import type { StopAnswer, StopOutcome, StopRequest } from './stop-route'
import { sendStop } from './stop-route'

interface StopState {
  readonly sending: StopRequest['step'] | null
  readonly answer: StopAnswer | null
  readonly failed: Extract<StopOutcome, { ok: false }> | null
}

/** One key a step until the server has answered: pressing again in doubt is one record. */
export function useStop(route: string) {
  const router = useRouter()
  const requests = useRef<Partial<Record<StopRequest['step'], StopRequest>>>({})
  const isBusy = useRef(false)
  const [state, setState] = useState<StopState>({ sending: null, answer: null, failed: null })

  const press = async (step: StopRequest['step']) => {
    if (isBusy.current) return null
    isBusy.current = true
    setState((was) => ({ ...was, sending: step, failed: null }))
    const request = requests.current[step] ?? {
      key: newKey(),
      step,
      deviceAt: new Date().toISOString(),
    }
    requests.current[step] = request
    const outcome = await sendStop(route, request)
    isBusy.current = false
    if (outcome.ok) delete requests.current[step]
    setState((was) => ({
      sending: null,
      answer: outcome.ok ? outcome.answer : was.answer,
      failed: outcome.ok ? null : outcome,
    }))
    if (outcome.ok) router.refresh()
    return outcome
  }
  return { ...state, press }
}

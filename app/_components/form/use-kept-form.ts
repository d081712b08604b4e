'use client'

import { unstable_rethrow } from 'next/navigation'
import type { SubmitEvent } from 'react'
import { useCallback, useEffect, useRef, useState, useTransition } from 'react'
import { v4 as newKey } from 'uuid'
import type { ActionFailure, ActionResult } from '@/lib/action-result'
import { clearPins, readKept, restoreInto, valuesOf, writeKept } from './kept-values'

/** A server action as useActionState would take it. */
export type FormAction<T> = (
  previous: ActionResult<T> | null,
  formData: FormData,
) => Promise<ActionResult<T>>

export interface KeptFormOptions<T> {
  /** Names what is filled in: the same id finds the typed text again after a reload. */
  readonly id: string
  readonly action: FormAction<T>
  readonly onDone?: (data: T) => void
}

export interface KeptFormState<T> {
  readonly isSending: boolean
  readonly failure: ActionFailure | null
  /** 'lost': no answer came. 'broken': the answer was no answer. The same press again is safe. */
  readonly trouble: 'lost' | 'broken' | null
  readonly data: T | null
  /** Counts the fillings-in: fields keyed by it start empty again after a success. */
  readonly filling: number
}

const BUSY_TRIES = 3
const BUSY_WAIT_MS = 600
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

async function sendWhileBusy<T>(
  action: FormAction<T>,
  formData: FormData,
): Promise<ActionResult<T>> {
  for (let attempt = 1; ; attempt += 1) {
    const result = await action(null, formData)
    if (result.ok || result.code !== 'BUSY' || attempt === BUSY_TRIES) return result
    await wait(BUSY_WAIT_MS * attempt)
  }
}

/** A server's own failure carries a digest; everything else never reached it, or came back as no answer. */
function troubleOf(error: unknown): 'lost' | 'broken' {
  const hasDigest = typeof error === 'object' && error !== null && 'digest' in error
  return navigator.onLine && hasDigest ? 'broken' : 'lost'
}

/**
 * The one form hook. It keeps what was typed through refusals, lost signal and reloads, sends the
 * same key until the server has said yes, and lets a double press count once.
 */
export function useKeptForm<T>({ id, action, onDone }: KeptFormOptions<T>, isLive: boolean) {
  const formRef = useRef<HTMLFormElement>(null)
  const clientKey = useRef('')
  const sentAt = useRef<string | null>(null)
  const isBusy = useRef(false)
  const [isSending, startSending] = useTransition()
  const [state, setState] = useState<Omit<KeptFormState<T>, 'isSending'>>({
    failure: null,
    trouble: null,
    data: null,
    filling: 0,
  })

  useEffect(() => {
    if (!isLive) return // a box in a shut form can't be ticked
    const kept = readKept(id)
    clientKey.current = kept?.clientKey ?? newKey()
    sentAt.current = kept?.sentAt ?? null
    if (kept && formRef.current) restoreInto(formRef.current, kept.values)
  }, [id, isLive])

  const keep = useCallback(() => {
    if (!formRef.current) return
    writeKept(id, {
      clientKey: clientKey.current,
      sentAt: sentAt.current,
      values: valuesOf(new FormData(formRef.current)),
    })
  }, [id])

  const startOver = useCallback(() => {
    writeKept(id, null)
    clientKey.current = newKey()
    sentAt.current = null
  }, [id])

  const onSubmit = (event: SubmitEvent<HTMLFormElement>) => {
    event.preventDefault()
    if (isBusy.current) return
    isBusy.current = true
    const form = event.currentTarget
    const formData = new FormData(form, event.nativeEvent.submitter)
    sentAt.current ??= new Date().toISOString()
    formData.set('key', clientKey.current)
    if (!formData.has('deviceAt')) formData.set('deviceAt', sentAt.current)
    keep()
    setState((was) => ({ ...was, trouble: null }))
    startSending(async () => {
      try {
        const result = await sendWhileBusy(action, formData)
        if (result.ok) {
          startOver()
          setState((was) => ({
            failure: null,
            trouble: null,
            data: result.data,
            filling: was.filling + 1,
          }))
          onDone?.(result.data)
          return
        }
        // Recorded before, with other values: what is typed now is a new filling-in.
        if (result.code === 'KEY_REUSED') clientKey.current = newKey()
        sentAt.current = null // refused is not sent: the next press is an act of its own time
        keep()
        clearPins(form)
        setState((was) => ({ ...was, failure: result, trouble: null, data: null }))
      } catch (error) {
        if (isRedirect(error)) startOver() // the server said yes and sends us on
        unstable_rethrow(error)
        setState((was) => ({ ...was, failure: null, trouble: troubleOf(error), data: null }))
      } finally {
        isBusy.current = false
      }
    })
  }

  return { formRef, onSubmit, onInput: keep, onChange: keep, isSending, ...state }
}

function isRedirect(error: unknown): boolean {
  return (
    typeof error === 'object' &&
    error !== null &&
    'digest' in error &&
    String(error.digest).startsWith('NEXT_REDIRECT')
  )
}

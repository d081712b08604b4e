'use client'

import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { createContext, Fragment, useContext, useEffect, useSyncExternalStore } from 'react'
import type { ActionFailure } from '@/lib/action-result'
import type { Reason } from '@/lib/errors'
import { ReasonsGiven } from './reasons-given'
import type { KeptFormOptions } from './use-kept-form'
import { useKeptForm } from './use-kept-form'

interface FormView {
  readonly isSending: boolean
  readonly failure: ActionFailure | null
}

const FormContext = createContext<FormView>({ isSending: false, failure: null })

/** What the server said against one field. */
export function useFieldErrors(name: string): readonly Reason[] {
  return useContext(FormContext).failure?.fieldErrors[name] ?? []
}

/** Why the form was refused as a whole. */
export function useFailureCode(): string | null {
  return useContext(FormContext).failure?.code ?? null
}

export function useIsSending(): boolean {
  return useContext(FormContext).isSending
}

type KeptFormProps<T> = Readonly<
  KeptFormOptions<T> & {
    children: ReactNode
    /** Heads the refusal: "Can't issue yet." Its reasons are counted after it. */
    refusedTitle?: string
    className?: string
  }
>

const neverChanges = () => () => undefined

/**
 * False until the browser runs this page's code. A form that is sent before would be sent by the
 * browser itself, with a PIN in the address; what is typed before would be lost.
 */
function useIsLive(): boolean {
  return useSyncExternalStore(
    neverChanges,
    () => true,
    () => false,
  )
}

/** Every form of the app: what was typed stays, what was refused is said, a lost sending can be tried again. */
export function KeptForm<T>({ children, refusedTitle, className, ...options }: KeptFormProps<T>) {
  const t = useTranslations('kit.form')
  const isLive = useIsLive()
  const { formRef, onSubmit, onInput, onChange, isSending, failure, trouble, filling } =
    useKeptForm(options, isLive)

  useEffect(() => {
    if (!failure) return
    const wrong = formRef.current?.querySelector<HTMLElement>(
      '[aria-invalid="true"], [data-refusal]',
    )
    wrong?.focus()
  }, [failure, formRef])

  return (
    <form
      ref={formRef}
      onSubmit={onSubmit}
      onInput={onInput}
      onChange={onChange}
      className={className}
      noValidate
    >
      <FormContext value={{ isSending, failure }}>
        {failure ? <ReasonsGiven failure={failure} title={refusedTitle} /> : null}
        <fieldset className="contents" role="presentation" disabled={!isLive}>
          <Fragment key={filling}>{children}</Fragment>
        </fieldset>
        <p className="form-trouble" role="alert">
          {trouble ? t(trouble) : null}
        </p>
      </FormContext>
    </form>
  )
}

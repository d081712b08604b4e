'use client'

import { useTranslations } from 'next-intl'
import type { FormEvent } from 'react'
import { useId } from 'react'
import { Button } from '../controls/button'
import { wakeSound } from './beep'
import { Scanner } from './scanner'

type ScanOrTypeProps = Readonly<{
  onCode: (code: string) => void
  /** What the button says that sends what was typed. */
  press: string
}>

/** The camera, and a box for a serial that no camera reads. */
export function ScanOrType({ onCode, press }: ScanOrTypeProps) {
  const t = useTranslations('scan')
  const id = useId()
  const typed = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    wakeSound()
    const box = event.currentTarget.elements.namedItem('code')
    if (!(box instanceof HTMLInputElement) || box.value.trim() === '') return
    onCode(box.value)
    box.value = ''
  }
  return (
    <>
      <Scanner onCode={onCode} />
      <form onSubmit={typed} className="flex items-end gap-3">
        <div className="field min-w-0 grow">
          <label className="field-label" htmlFor={id}>
            {t('byHand')}
          </label>
          <div className="field-box">
            <input
              id={id}
              name="code"
              className="type-ident uppercase"
              autoComplete="off"
              maxLength={60}
            />
          </div>
        </div>
        <Button type="submit">{press}</Button>
      </form>
    </>
  )
}

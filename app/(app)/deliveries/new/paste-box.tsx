'use client'

import { useTranslations } from 'next-intl'
import { useRef } from 'react'
import { Button } from '@/app/_components/controls/button'
import { pastedRows } from '@/lib/schemas/delivery-paste'
import type { SizeOption } from './delivery-types'

type PasteBoxProps = Readonly<{
  sizes: readonly SizeOption[]
  onRows: (rows: ReturnType<typeof pastedRows>) => void
}>

/** The supplier's list, pasted or read from its CSV file; it fills rows, which are looked at before they are sent. */
export function PasteBox({ sizes, onRows }: PasteBoxProps) {
  const t = useTranslations('deliveries')
  const box = useRef<HTMLTextAreaElement>(null)
  const take = (text: string) => {
    const rows = pastedRows(text, sizes)
    if (rows.length > 0) onRows(rows)
  }
  return (
    <details className="fold mt-3">
      <summary>{t('pasteTitle')}</summary>
      <div className="flex flex-col gap-3 pt-2 desk:max-w-[560px]">
        <div className="field">
          <label className="field-label" htmlFor="paste-rows">
            {t('pasteLabel')}
          </label>
          <div className="field-box">
            <textarea id="paste-rows" ref={box} rows={5} className="type-ident" />
          </div>
          <p className="field-note">{t('pasteNote')}</p>
        </div>
        <Button onClick={() => take(box.current?.value ?? '')}>{t('pasteTake')}</Button>
        <div className="field">
          <label className="field-label" htmlFor="paste-file">
            {t('pasteFile')}
          </label>
          <input
            id="paste-file"
            type="file"
            accept=".csv,.txt,.tsv"
            onChange={(event) => {
              void event.target.files?.[0]?.text().then(take)
            }}
          />
        </div>
      </div>
    </details>
  )
}

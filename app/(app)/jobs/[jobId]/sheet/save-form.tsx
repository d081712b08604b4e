'use client'

import { useTranslations } from 'next-intl'
import { useEffect, useRef } from 'react'
import { NotYetButton } from '@/app/_components/controls/not-yet-button'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { SheetChanges } from '@/lib/schemas/sheet-save'
import { saveSheetAction } from './actions'
import { problemWords } from './column-words'
import type { Sheet } from './use-sheet'

const MOST_LISTED = 20

/** All changes go in one submission. What is not saved yet is kept on this device through a reload. */
export function SaveForm({ cutListId, sheet }: Readonly<{ cutListId: string; sheet: Sheet }>) {
  const t = useTranslations('sheet')
  const { wrong, changedCount } = sheet
  return (
    <KeptForm
      id={`sheet-${cutListId}`}
      action={saveSheetAction}
      refusedTitle={t('refused')}
      className="thumb sheet-save"
    >
      <input type="hidden" name="cutListId" value={cutListId} />
      <Draft sheet={sheet} />
      {wrong.length > 0 ? (
        <NotYetButton
          label={t('putRightFirst', { count: wrong.length })}
          reasons={
            <ul className="sheet-faults">
              {wrong.slice(0, MOST_LISTED).map((row) => (
                <li key={row.key}>
                  <b>{t('pastedRow', { row: sheet.rows.indexOf(row) + 1 })}</b>{' '}
                  {row.read.ok
                    ? null
                    : row.read.problems
                        .map((problem) => problemWords(problem, row.cells, t))
                        .join(' ')}
                </li>
              ))}
              {wrong.length > MOST_LISTED ? (
                <li>{t('moreFaults', { count: wrong.length - MOST_LISTED })}</li>
              ) : null}
            </ul>
          }
        />
      ) : changedCount > 0 ? (
        <SubmitButton>{t('save', { count: changedCount })}</SubmitButton>
      ) : (
        <p className="type-note text-ink-2">{t('nothingToSave')}</p>
      )}
    </KeptForm>
  )
}

/**
 * The form's one field. It is written only when the form is read, since ten thousand rows as text at
 * every key would cost more than the sum; and it is where an unsaved draft comes back after a reload.
 */
function Draft({ sheet }: Readonly<{ sheet: Sheet }>) {
  const field = useRef<HTMLTextAreaElement>(null)
  const latest = useRef(sheet)
  useEffect(() => {
    latest.current = sheet
  })
  useEffect(() => {
    const form = field.current?.form
    if (!form) return
    const write = (event: FormDataEvent) =>
      event.formData.set('changes', JSON.stringify(latest.current.changes()))
    const keep = () => {
      if (document.visibilityState === 'hidden' && latest.current.changedCount > 0)
        form.dispatchEvent(new Event('input', { bubbles: true }))
    }
    form.addEventListener('formdata', write)
    document.addEventListener('visibilitychange', keep)
    return () => {
      form.removeEventListener('formdata', write)
      document.removeEventListener('visibilitychange', keep)
    }
  }, [])
  return (
    <textarea
      ref={field}
      name="changes"
      hidden
      aria-hidden="true"
      tabIndex={-1}
      value=""
      onChange={(event) => {
        const draft = readDraft(event.target.value)
        if (draft) sheet.restore(draft)
      }}
    />
  )
}

function readDraft(text: string): SheetChanges | null {
  try {
    const draft: unknown = JSON.parse(text)
    return typeof draft === 'object' && draft !== null && 'rows' in draft && 'removed' in draft
      ? (draft as SheetChanges)
      : null
  } catch {
    return null
  }
}

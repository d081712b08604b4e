'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { type ReactNode, useEffect, useRef } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { ClearanceItem } from '@/lib/data/permits/clearance-view'
import { PermitFields } from '../permit-fields'
import { answerClearanceAction } from './actions'
import { ItemAnswer } from './item-answer'

type WalkFormProps = Readonly<{
  permitId: string
  item: ClearanceItem
  /** Said before the choices. */
  hint: ReactNode
  photos: ReactNode
  /** The title of the item after this one; null when this is the last. */
  nextTitle: string | null
  leftWords: ReactNode
  before: ReactNode
  after: ReactNode
}>

/** The walk with one item open; the button at the thumb keeps its answer and goes to the next. */
export function WalkForm(props: WalkFormProps) {
  const { permitId, item, hint, photos, nextTitle, leftWords, before, after } = props
  const t = useTranslations('permit.clearance')
  const c = useTranslations('clearance.items')
  const router = useRouter()
  const open = useRef<HTMLElement>(null)
  // The walk goes on where it is: a few answered rows stay in sight above it.
  useEffect(() => {
    open.current?.scrollIntoView({ block: 'start' }) // may answer with a promise, which no effect may return
  }, [])
  return (
    <KeptForm
      id={`clearance-${permitId}-${item.id}`}
      action={answerClearanceAction}
      refusedTitle={t('notKept')}
      onDone={() => router.replace(`/permits/${permitId}/clearance`)}
      className="flex flex-1 flex-col"
    >
      <PermitFields permitId={permitId} />
      {before}
      <section
        ref={open}
        className="scroll-mt-40 border-y-2 border-ink px-4 pt-3 pb-4 desk:px-0"
        aria-labelledby={`item-${item.id}`}
      >
        <h2 id={`item-${item.id}`} className="type-phone-title mb-1">
          {c(`${item.id}.title`)}
        </h2>
        {item.siteFact ? (
          <p className="type-note mb-1 text-ink-2">{t('siteFact', { fact: item.siteFact })}</p>
        ) : null}
        {hint}
        <ItemAnswer item={item} />
        {photos}
      </section>
      {after}
      <div className="sticky bottom-0 z-10 mt-auto flex items-center gap-4 border-t border-rule bg-paper px-4 py-2.5 desk:static desk:border-t-0 desk:px-0">
        <p className="w-[112px] shrink-0 type-note">{leftWords}</p>
        <SubmitButton>{nextTitle ? t('nextItem', { title: nextTitle }) : t('keep')}</SubmitButton>
      </div>
    </KeptForm>
  )
}

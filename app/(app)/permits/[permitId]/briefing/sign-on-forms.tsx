'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { PinField, SelectField, TextField } from '@/app/_components/form/text-field'
import { TickBox } from '@/app/_components/form/tick-box'
import type { SiteHand } from '@/lib/data/permits/people'
import { PermitFields } from '../permit-fields'
import { signOnAction, signVisitorAction } from './actions'

/** One of the company's own, with their own PIN. */
export function SignOnForm({
  permitId,
  hands,
}: Readonly<{ permitId: string; hands: readonly SiteHand[] }>) {
  const t = useTranslations('permit.briefing')
  const router = useRouter()
  return (
    <KeptForm
      id={`sign-on-${permitId}`}
      action={signOnAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} />
      <SelectField
        name="personId"
        label={t('who')}
        emptyLabel={t('choose')}
        options={hands.map(({ id, name }) => ({ value: id, label: name }))}
      />
      <PinField label={t('pin')} note={t('pinNote')} />
      <SubmitButton>{t('sign')}</SubmitButton>
    </KeptForm>
  )
}

/** A visitor, or somebody of another firm: written down by whoever briefed them. */
export function VisitorForm({ permitId }: Readonly<{ permitId: string }>) {
  const t = useTranslations('permit.briefing')
  const router = useRouter()
  return (
    <KeptForm
      id={`sign-visitor-${permitId}`}
      action={signVisitorAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
      className="grid gap-3 border-t border-rule pt-4"
    >
      <h3 className="type-row-title">{t('visitor')}</h3>
      <PermitFields permitId={permitId} />
      <TextField name="name" label={t('name')} maxLength={80} />
      <TextField name="firm" label={t('firm')} maxLength={80} />
      <TickBox name="briefed">{t('briefedThem')}</TickBox>
      <SubmitButton kind="plain">{t('writeDown')}</SubmitButton>
    </KeptForm>
  )
}

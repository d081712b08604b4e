'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { TickBox } from '@/app/_components/form/tick-box'
import { lookAgainAction } from '../actions'
import { PermitFields } from '../permit-fields'

/** The new look: the same as it was cleared, or walked again where it changed. */
export function LookForm({ permitId, version }: Readonly<{ permitId: string; version: number }>) {
  const t = useTranslations('permit.resume')
  const router = useRouter()
  return (
    <KeptForm
      id={`look-${permitId}`}
      action={lookAgainAction}
      refusedTitle={t('notKept')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} />
      <TickBox name="sameAsCleared">{t('same')}</TickBox>
      <TextField name="what" label={t('whatLooked')} maxLength={300} />
      <SubmitButton kind="plain">{t('keepLook')}</SubmitButton>
      <p className="type-note">
        {t('changed')}{' '}
        <Link className="text-link" href={`/permits/${permitId}/clearance`}>
          {t('walk')}
        </Link>
      </p>
    </KeptForm>
  )
}

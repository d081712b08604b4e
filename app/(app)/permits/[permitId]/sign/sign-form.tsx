'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { PinField, SelectField } from '@/app/_components/form/text-field'
import type { SignStep } from '@/lib/data/permits/sign-view'
import { PermitFields } from '../permit-fields'
import { signPermitAction } from './actions'

/** The phone goes to the person named: they read what they sign, and sign with their own PIN. */
export function SignForm({
  permitId,
  version,
  contentHash,
  step,
  supervisors,
}: Readonly<{
  permitId: string
  version: number
  contentHash: string
  step: SignStep
  supervisors: readonly Readonly<{ id: string; name: string }>[]
}>) {
  const t = useTranslations('permit.sign')
  const router = useRouter()
  return (
    <KeptForm
      id={`sign-${permitId}-${step.act}`}
      action={signPermitAction}
      refusedTitle={t('notSigned')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} contentHash={contentHash} />
      <input type="hidden" name="act" value={step.act} />
      {step.act === 'enter' ? null : (
        <input type="hidden" name="personId" value={step.personId ?? ''} />
      )}
      <p>{t(`words.${step.act}`)}</p>
      {step.act === 'enter' ? (
        <>
          <SelectField
            name="personId"
            label={t('supervisor')}
            emptyLabel={t('choose')}
            options={supervisors.map(({ id, name }) => ({ value: id, label: name }))}
          />
          <PinField label={t('pinOfSupervisor')} />
        </>
      ) : (
        <PinField
          label={t('pinOf', { name: step.name })}
          note={t('handOver', { name: step.name })}
        />
      )}
      <SubmitButton>{t(`press.${step.act}`)}</SubmitButton>
    </KeptForm>
  )
}

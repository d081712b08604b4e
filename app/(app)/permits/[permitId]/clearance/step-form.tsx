'use client'

import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { FormAction } from '@/app/_components/form/use-kept-form'
import { PermitFields } from '../permit-fields'

type StepFormProps = Readonly<{
  id: string
  permitId: string
  version: number
  action: FormAction<{ permitId: string }>
  label: string
  refusedTitle: string
  kind?: 'main' | 'plain'
}>

/** A step that needs nothing typed: one button, and every reason when it is refused. */
export function StepForm({
  id,
  permitId,
  version,
  action,
  label,
  refusedTitle,
  kind = 'main',
}: StepFormProps) {
  return (
    <KeptForm id={`${id}-${permitId}-${version}`} action={action} refusedTitle={refusedTitle}>
      <PermitFields permitId={permitId} version={version} />
      <div className="px-4 py-2.5 desk:max-w-[480px] desk:px-0">
        <SubmitButton kind={kind}>{label}</SubmitButton>
      </div>
    </KeptForm>
  )
}

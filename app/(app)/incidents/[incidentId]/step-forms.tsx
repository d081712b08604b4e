'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { closeIncidentAction, followUpIncidentAction } from '../actions'

/** What was found out, as often as there is something; then the closing, once. */
export function StepForms({ incidentId }: Readonly<{ incidentId: string }>) {
  const t = useTranslations('incidents.one')
  const router = useRouter()
  const shared = { refusedTitle: t('refused'), onDone: () => router.refresh() }
  return (
    <div className="grid gap-8">
      <section>
        <h2 className="type-section mb-2 border-b-2 border-ink pb-1">{t('followUp')}</h2>
        <KeptForm
          id={`follow-${incidentId}`}
          action={followUpIncidentAction}
          className="grid gap-3"
          {...shared}
        >
          <input type="hidden" name="incidentId" value={incidentId} />
          <TextField name="words" label={t('followWords')} rows={3} maxLength={400} />
          <SubmitButton>{t('followDo')}</SubmitButton>
        </KeptForm>
      </section>
      <section>
        <h2 className="type-section mb-2 border-b-2 border-ink pb-1">{t('close')}</h2>
        <KeptForm
          id={`close-${incidentId}`}
          action={closeIncidentAction}
          className="grid gap-3"
          {...shared}
        >
          <input type="hidden" name="incidentId" value={incidentId} />
          <TextField name="words" label={t('closeWords')} maxLength={400} />
          <SubmitButton kind="plain">{t('closeDo')}</SubmitButton>
        </KeptForm>
      </section>
    </div>
  )
}

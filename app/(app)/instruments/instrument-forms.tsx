'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { ThreeWayAnswer } from '@/app/_components/form/three-way-answer'
import { addInstrumentAction, checkInstrumentAction } from './actions'

export function AddInstrumentForm({ siteId }: Readonly<{ siteId: string }>) {
  const t = useTranslations('instruments')
  const router = useRouter()
  return (
    <KeptForm
      id={`add-instrument-${siteId}`}
      action={addInstrumentAction}
      refusedTitle={t('notKept')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <TextField name="name" label={t('name')} isIdentity maxLength={80} />
      <TextField name="model" label={t('model')} maxLength={80} />
      <SubmitButton>{t('keepNew')}</SubmitButton>
    </KeptForm>
  )
}

/** A bump test or a calibration, as it came out. */
export function CheckForm({
  instrumentId,
  today,
}: Readonly<{ instrumentId: string; today: string }>) {
  const t = useTranslations('instruments')
  const router = useRouter()
  const [kind, setKind] = useState('')
  return (
    <KeptForm
      id={`check-${instrumentId}`}
      action={checkInstrumentAction}
      refusedTitle={t('notKept')}
      onDone={() => {
        setKind('')
        router.refresh()
      }}
      className="grid gap-3 py-2"
    >
      <input type="hidden" name="instrumentId" value={instrumentId} />
      <ThreeWayAnswer
        name="kind"
        label={t('kind')}
        isSmall
        onAnswered={setKind}
        options={[
          { value: 'bump', label: t('kinds.bump') },
          { value: 'calibration', label: t('kinds.calibration') },
        ]}
      />
      <TextField name="onDay" type="date" label={t('onDay')} defaultValue={today} />
      {kind === 'calibration' ? (
        <TextField name="validUntil" type="date" label={t('validUntil')} />
      ) : null}
      <ThreeWayAnswer
        name="passed"
        label={t('cameOut')}
        isSmall
        options={[
          { value: 'yes', label: t('passed'), mark: 'done' },
          { value: 'no', label: t('failed'), mark: 'refused', consequence: t('failedThen') },
        ]}
      />
      <TextField name="note" label={t('note')} maxLength={300} />
      <SubmitButton kind="plain">{t('keepCheck')}</SubmitButton>
    </KeptForm>
  )
}

'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { KeptForm } from '@/app/_components/form/kept-form'
import { useReasonWords } from '@/app/_components/form/reason-words'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { usePrefs } from '@/app/_components/live/prefs'
import type { OutfitPage } from '@/lib/data/gear/outfit'
import type { Reason } from '@/lib/errors'
import { RECORDED_CHECKS } from '@/lib/schemas/outfit'
import { holdTestAction, recordCheckAction, serviceAction } from '../actions'

/** What keeps it out: every reason at once. */
export function BackReasons({ reasons }: Readonly<{ reasons: readonly Reason[] }>) {
  const say = useReasonWords()
  return (
    <ul className="mb-3 list-disc pl-5">
      {reasons.map((reason) => {
        const { what, cure } = say(reason)
        return (
          <li key={`${reason.code} ${JSON.stringify(reason.params)}`}>{`${what} ${cure ?? ''}`}</li>
        )
      })}
    </ul>
  )
}

type FormsProps = Readonly<{ outfit: OutfitPage }>

export function CheckForms({ outfit }: FormsProps) {
  return (
    <div className="grid gap-8">
      <LookForm outfit={outfit} />
      <HoldForm outfit={outfit} />
      <ServiceForm outfit={outfit} />
    </div>
  )
}

function useShared(outfit: OutfitPage) {
  const t = useTranslations('outfits')
  const router = useRouter()
  const [verdict, setVerdict] = useState('')
  return {
    t,
    said: verdict,
    form: {
      refusedTitle: t('refused'),
      onDone: (data: { verdict: string }) => {
        setVerdict(data.verdict)
        router.refresh()
      },
      className: 'grid gap-3',
      children: <input type="hidden" name="outfitId" value={outfit.id} />,
    },
  }
}

function LookForm({ outfit }: FormsProps) {
  const { t, form } = useShared(outfit)
  const { children, ...shared } = form
  return (
    <section>
      <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('look')}</h2>
      <KeptForm id={`look-${outfit.id}`} action={recordCheckAction} {...shared}>
        {children}
        <SelectField
          name="check"
          label={t('whatLooked')}
          options={RECORDED_CHECKS.map((check) => ({
            value: check,
            label: t(`recorded.${check}`),
          }))}
        />
        <SelectField
          name="isGood"
          label={t('found')}
          emptyLabel={t('choose')}
          options={[
            { value: 'yes', label: t('good') },
            { value: 'no', label: t('bad') },
          ]}
        />
        <TextField name="reason" label={t('reason')} note={t('reasonNote')} maxLength={200} />
        <SubmitButton kind="plain">{t('record')}</SubmitButton>
      </KeptForm>
    </section>
  )
}

const UNITS = {
  us: [
    { unit: 'psi', label: 'psi' },
    { unit: 'kPa', label: 'kPa' },
  ],
  si: [
    { unit: 'kPa', label: 'kPa' },
    { unit: 'psi', label: 'psi' },
  ],
} as const

function HoldForm({ outfit }: FormsProps) {
  const { t, said, form } = useShared(outfit)
  const { children, ...shared } = form
  const units = UNITS[usePrefs().units]
  return (
    <section>
      <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('hold')}</h2>
      <KeptForm id={`hold-${outfit.id}`} action={holdTestAction} {...shared}>
        {children}
        <SelectField
          name="test"
          label={t('whichTest')}
          options={[
            { value: 'leak', label: t('leak') },
            { value: 'creep', label: t('creep') },
          ]}
        />
        <SelectField
          name="side"
          label={t('side')}
          options={[
            { value: 'oxygen', label: t('sides.oxygen') },
            { value: 'fuel', label: t('sides.fuel') },
          ]}
        />
        <FieldWithUnit name="start" label={t('start')} units={units} />
        <FieldWithUnit name="end" label={t('end')} units={units} />
        <FieldWithUnit name="resolution" label={t('resolution')} units={units} />
        <TextField name="minutes" label={t('minutes')} inputMode="decimal" defaultValue="10" />
        <SubmitButton kind="plain">{t('record')}</SubmitButton>
        <p role="status" className="font-[600]">
          {said ? t(`found_${said as 'noFallSeen'}`) : null}
        </p>
      </KeptForm>
    </section>
  )
}

function ServiceForm({ outfit }: FormsProps) {
  const { t, form } = useShared(outfit)
  const { children, ...shared } = form
  return (
    <section>
      <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('service')}</h2>
      <KeptForm id={`service-${outfit.id}`} action={serviceAction} {...shared}>
        {children}
        <SelectField
          name="act"
          label={t('whatHappened')}
          emptyLabel={t('choose')}
          options={(['out_of_service', 'flashback', 'back_in_service'] as const).map((act) => ({
            value: act,
            label: t(`acts.${act}`),
          }))}
        />
        <TextField name="reason" label={t('reason')} note={t('tagNote')} maxLength={200} />
        <SubmitButton kind="plain">{t('record')}</SubmitButton>
      </KeptForm>
    </section>
  )
}

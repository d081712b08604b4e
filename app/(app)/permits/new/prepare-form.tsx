'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, type SelectOption, TextField } from '@/app/_components/form/text-field'
import { ThreeWayAnswer } from '@/app/_components/form/three-way-answer'
import { TickBox } from '@/app/_components/form/tick-box'
import { ISOLATION_STEPS, PERMIT_PROCESSES } from '@/lib/schemas/permit-prepare'
import { preparePermitAction } from './actions'

type PrepareFormProps = Readonly<{
  jobId: string
  cutLists: readonly SelectOption[]
  areas: readonly SelectOption[]
  outfits: readonly SelectOption[]
  operators: readonly SelectOption[]
  watchers: readonly SelectOption[]
  day: string
  from: string
  until: string
  /** The site lets an operator work alone with the client's person. */
  mayBeAlone: boolean
}>

/** Cold or elsewhere is asked first; only when it is neither does the rest of the form appear. */
export function PrepareForm(props: PrepareFormProps) {
  const t = useTranslations('permit.prepare')
  const [cold, setCold] = useState('')
  return (
    <KeptForm
      id={`prepare-${props.jobId}`}
      action={preparePermitAction}
      refusedTitle={t('refused')}
      className="grid gap-4 px-4 py-3 desk:max-w-[960px] desk:px-8 [&>.refusal]:-mx-4"
    >
      <input type="hidden" name="jobId" value={props.jobId} />
      <div className="desk:max-w-[480px]">
        <ThreeWayAnswer
          name="coldAnswer"
          label={t('coldAsk')}
          onAnswered={setCold}
          options={[
            { value: 'cold', label: t('cold.cold'), mark: 'done', consequence: t('cold.coldThen') },
            {
              value: 'elsewhere',
              label: t('cold.elsewhere'),
              mark: 'done',
              consequence: t('cold.elsewhereThen'),
            },
            { value: 'neither', label: t('cold.neither'), mark: 'not-here' },
          ]}
        />
      </div>
      {cold === 'neither' ? <Rest {...props} /> : null}
    </KeptForm>
  )
}

function Rest(props: PrepareFormProps) {
  const t = useTranslations('permit.prepare')
  return (
    <>
      <div className="grid gap-4 desk:grid-cols-2 desk:gap-x-12">
        <TextField name="coldWhy" label={t('coldWhy')} maxLength={300} />
        <Work {...props} />
        <When {...props} />
        <People {...props} />
        <Piece />
      </div>
      <div className="desk:max-w-[480px]">
        <SubmitButton>{t('send')}</SubmitButton>
      </div>
    </>
  )
}

function Work({ cutLists, areas, outfits }: PrepareFormProps) {
  const t = useTranslations('permit.prepare')
  const p = useTranslations('rules.processes')
  return (
    <>
      <TextField name="what" label={t('what')} maxLength={300} />
      <SelectField
        name="process"
        label={t('process')}
        defaultValue="oxyfuel_cutting"
        options={PERMIT_PROCESSES.map((process) => ({ value: process, label: p(process) }))}
      />
      <SelectField name="areaId" label={t('area')} emptyLabel={t('choose')} options={areas} />
      <TextField name="whereWords" label={t('where')} note={t('whereNote')} maxLength={300} />
      <SelectField
        name="cutListId"
        label={t('cutList')}
        emptyLabel={t('noCutList')}
        {...(cutLists[0] ? { defaultValue: cutLists[0].value } : {})}
        options={cutLists}
      />
      <SelectField name="outfitId" label={t('outfit')} emptyLabel={t('choose')} options={outfits} />
    </>
  )
}

function When({ day, from, until }: PrepareFormProps) {
  const t = useTranslations('permit.prepare')
  return (
    <div className="grid grid-cols-2 gap-3">
      <div className="col-span-2">
        <TextField name="plannedDay" type="date" label={t('day')} defaultValue={day} />
      </div>
      <TextField name="plannedFrom" type="time" label={t('from')} defaultValue={from} />
      <TextField name="plannedUntil" type="time" label={t('until')} defaultValue={until} />
    </div>
  )
}

function People({ operators, watchers, mayBeAlone }: PrepareFormProps) {
  const t = useTranslations('permit.prepare')
  return (
    <div className="grid content-start gap-4">
      <SelectField
        name="operatorId"
        label={t('operator')}
        emptyLabel={t('choose')}
        options={operators}
      />
      <SelectField
        name="fireWatchId"
        label={t('fireWatch')}
        emptyLabel={t('choose')}
        options={watchers}
        note={t('fireWatchNote')}
      />
      {mayBeAlone ? (
        <TextField
          name="loneClient"
          label={t('loneClient')}
          note={t('loneClientNote')}
          maxLength={80}
        />
      ) : null}
    </div>
  )
}

function Piece() {
  const t = useTranslations('permit.prepare')
  return (
    <>
      <TextField name="inside" label={t('inside')} maxLength={300} />
      <TextField name="behind" label={t('behind')} maxLength={300} />
      <fieldset>
        <legend className="field-label">{t('isolation')}</legend>
        {ISOLATION_STEPS.map((step) => (
          <TickBox key={step} name="isolationSteps" value={step}>
            {t(`steps.${step}`)}
          </TickBox>
        ))}
      </fieldset>
      <div className="grid content-start gap-4">
        <TextField name="isolationProvenBy" label={t('provenBy')} maxLength={120} />
        <TextField name="hostPermit" label={t('hostPermit')} maxLength={120} />
        <TextField
          name="hostPermitUntil"
          type="time"
          label={t('hostPermitUntil')}
          note={t('linkedNote')}
        />
        <TextField name="entryPermit" label={t('entryPermit')} maxLength={120} />
        <TextField
          name="entryPermitUntil"
          type="time"
          label={t('entryPermitUntil')}
          note={t('linkedNote')}
        />
      </div>
    </>
  )
}

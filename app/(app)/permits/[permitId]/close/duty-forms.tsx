'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import {
  PinField,
  SelectField,
  type SelectOption,
  TextField,
} from '@/app/_components/form/text-field'
import { PermitFields } from '../permit-fields'
import {
  closePermitAction,
  recordFinalLookAction,
  recordMonitoringAction,
  recordStatementAction,
  recordSurveyAction,
  restoreImpairmentAction,
  signOffWatchAction,
} from './actions'

type OnPermit = Readonly<{ permitId: string; version: number }>

const LOOKS = {
  monitored: recordMonitoringAction,
  finalLook: recordFinalLookAction,
  surveyed: recordSurveyAction,
}

/** What was found on the last walk round, in the person's own words. */
export function LookForm({
  permitId,
  version,
  kind,
}: OnPermit & Readonly<{ kind: keyof typeof LOOKS }>) {
  const t = useTranslations('watch.close')
  const action = LOOKS[kind]
  return (
    <KeptForm
      id={`${kind}-${permitId}`}
      action={action}
      refusedTitle={t('notYet')}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} />
      <TextField name="found" label={t('found')} note={t('foundNote')} rows={2} maxLength={200} />
      <SubmitButton kind="plain">{t(`${kind}Send`)}</SubmitButton>
    </KeptForm>
  )
}

export function StatementForm({ permitId, version }: OnPermit) {
  const t = useTranslations('watch.close')
  return (
    <KeptForm
      id={`statement-${permitId}`}
      action={recordStatementAction}
      refusedTitle={t('notYet')}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} />
      <TextField
        name="statement"
        label={t('statementLabel')}
        note={t('statementNote')}
        rows={3}
        maxLength={400}
      />
      <SubmitButton kind="plain">{t('statementSend')}</SubmitButton>
    </KeptForm>
  )
}

export function RestoreForm({
  permitId,
  version,
  impairmentId,
  label,
}: OnPermit & Readonly<{ impairmentId: string; label: string }>) {
  const t = useTranslations('watch.close')
  return (
    <KeptForm
      id={`restore-${permitId}-${impairmentId}`}
      action={restoreImpairmentAction}
      refusedTitle={t('notYet')}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} />
      <input type="hidden" name="impairmentId" value={impairmentId} />
      <SubmitButton kind="plain">{t('restoreSend', { label })}</SubmitButton>
    </KeptForm>
  )
}

type FinalProps = OnPermit &
  Readonly<{
    contentHash: string
    part: 'signOff' | 'close'
    people: readonly SelectOption[]
    isMain: boolean
  }>

/** The last two signatures, each with their own PIN; the PAI's closes it. */
export function FinalForm({ permitId, version, contentHash, part, people, isMain }: FinalProps) {
  const t = useTranslations('watch.close')
  return (
    <KeptForm
      id={`${part}-${permitId}`}
      action={part === 'signOff' ? signOffWatchAction : closePermitAction}
      refusedTitle={t(`${part}Refused`)}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} contentHash={contentHash} />
      <SelectField
        name="personId"
        label={t(`${part}Who`)}
        emptyLabel={t('choose')}
        options={people}
        {...(people.length === 1 && people[0] ? { defaultValue: people[0].value } : {})}
      />
      <PinField label={t('pin')} note={t(`${part}Note`)} />
      <SubmitButton kind={isMain ? 'main' : 'plain'}>{t(`${part}Send`)}</SubmitButton>
    </KeptForm>
  )
}

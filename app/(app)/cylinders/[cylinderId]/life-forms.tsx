'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { PlainTick } from '@/app/_components/form/plain-tick'
import { StorageConfirm } from '@/app/_components/form/storage-confirm'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { ReadingBoxes } from '@/app/_components/reading-boxes'
import type { CatalogueSize } from '@/lib/calc/catalogue-size'
import { TEST_METHODS } from '@/lib/schemas/cylinder-life'
import {
  correctReadingAction,
  moveCylinderAction,
  recordFillAction,
  recordTestAction,
  reportFoundAction,
} from './actions'
import { ConditionField } from './reason-form'

type Named = Readonly<{ id: string; name: string }>
const COLUMN = 'flex flex-col gap-2'
const toOptions = (rows: readonly Named[]) =>
  rows.map((row) => ({ value: row.id, label: row.name }))

type MoveFormProps = Readonly<{
  cylinderId: string
  siteId: string
  areas: readonly Named[]
  sites: readonly Named[]
}>

/** To another area here, or straight to another site. What goes by truck is loaded on the truck's page. */
export function MoveForm({ cylinderId, siteId, areas, sites }: MoveFormProps) {
  const t = useTranslations('cylinders')
  return (
    <KeptForm
      id={`move-${cylinderId}`}
      action={moveCylinderAction}
      refusedTitle={t('actRefused')}
      className={COLUMN}
    >
      <input type="hidden" name="cylinderId" value={cylinderId} />
      <SelectField
        name="areaId"
        label={t('toArea')}
        emptyLabel={t('onSitePlace')}
        options={toOptions(areas)}
      />
      <SelectField
        name="toSiteId"
        label={t('toSite')}
        note={t('toSiteNote')}
        emptyLabel={t('staysHere')}
        options={toOptions(sites.filter((site) => site.id !== siteId))}
      />
      <StorageConfirm />
      <SubmitButton kind="plain">{t('act.move')}</SubmitButton>
    </KeptForm>
  )
}

/** A test that was passed: the month it holds to follows from the specification, or is as stamped. */
export function TestForm({
  cylinderId,
  isStarred,
}: Readonly<{ cylinderId: string; isStarred: boolean }>) {
  const t = useTranslations('cylinders')
  return (
    <KeptForm
      id={`test-${cylinderId}`}
      action={recordTestAction}
      refusedTitle={t('actRefused')}
      className={COLUMN}
    >
      <input type="hidden" name="cylinderId" value={cylinderId} />
      <TextField name="testedOn" type="date" label={t('testedOn')} />
      <SelectField
        name="method"
        label={t('methodHead')}
        emptyLabel={t('methodUnknown')}
        options={TEST_METHODS.map((value) => ({ value, label: t(`method.${value}`) }))}
      />
      <PlainTick name="isStarred" label={t('starred')} isTicked={isStarred} />
      <TextField
        name="dueMonth"
        label={t('dueAsStamped')}
        note={t('dueAsStampedNote')}
        maxLength={7}
      />
      <SubmitButton kind="plain">{t('act.test')}</SubmitButton>
    </KeptForm>
  )
}

export function FillForm({ cylinderId }: Readonly<{ cylinderId: string }>) {
  const t = useTranslations('cylinders')
  return (
    <KeptForm
      id={`fill-${cylinderId}`}
      action={recordFillAction}
      refusedTitle={t('actRefused')}
      className={COLUMN}
    >
      <input type="hidden" name="cylinderId" value={cylinderId} />
      <TextField name="filledOn" type="date" label={t('filledOn')} />
      <TextField name="batch" label={t('batch')} maxLength={60} isIdentity />
      <SubmitButton kind="plain">{t('act.fill')}</SubmitButton>
    </KeptForm>
  )
}

/** It stands at one of the sites again. */
export function FoundForm({
  cylinderId,
  sites,
}: Readonly<{ cylinderId: string; sites: readonly Named[] }>) {
  const t = useTranslations('cylinders')
  return (
    <KeptForm
      id={`found-${cylinderId}`}
      action={reportFoundAction}
      refusedTitle={t('actRefused')}
      className={COLUMN}
    >
      <input type="hidden" name="cylinderId" value={cylinderId} />
      <SelectField name="siteId" label={t('foundAt')} options={toOptions(sites)} />
      <ConditionField />
      <TextField name="reason" label={t('reasonFor.found')} maxLength={300} />
      <SubmitButton kind="plain">{t('act.found')}</SubmitButton>
    </KeptForm>
  )
}

type CorrectFormProps = Readonly<{
  cylinderId: string
  correctsId: string
  size: CatalogueSize
  tareKg: number | null
}>

/** What the last reading should have said; the wrong one stays in the history. */
export function CorrectForm({ cylinderId, correctsId, size, tareKg }: CorrectFormProps) {
  const t = useTranslations('cylinders')
  return (
    <KeptForm
      id={`correct-${cylinderId}`}
      action={correctReadingAction}
      refusedTitle={t('actRefused')}
      className={COLUMN}
    >
      <input type="hidden" name="cylinderId" value={cylinderId} />
      <input type="hidden" name="correctsId" value={correctsId} />
      <ReadingBoxes size={size} tareKg={tareKg} />
      <PlainTick name="markedEmpty" label={t('itIsEmpty')} />
      <TextField name="reason" label={t('reasonFor.correct')} maxLength={300} />
      <SubmitButton kind="plain">{t('act.correct')}</SubmitButton>
    </KeptForm>
  )
}

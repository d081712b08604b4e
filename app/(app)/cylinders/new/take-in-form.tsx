'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { PlainTick } from '@/app/_components/form/plain-tick'
import { StorageConfirm } from '@/app/_components/form/storage-confirm'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { TEST_METHODS, VESSELS } from '@/lib/schemas/cylinder-life'
import { takeInCylinderAction } from './actions'

type Option = Readonly<{ value: string; label: string }>
type TakeInFormProps = Readonly<{
  siteId: string
  sizes: readonly Option[]
  suppliers: readonly Option[]
  areas: readonly Option[]
  massUnit: 'lb' | 'kg'
}>

/** Its plate, whose it is, and where it stands. */
export function TakeInForm({ siteId, sizes, suppliers, areas, massUnit }: TakeInFormProps) {
  const t = useTranslations('cylinders.takeIn')
  const c = useTranslations('cylinders')
  const router = useRouter()
  const how = [
    { value: 'bought', label: t('bought') },
    { value: 'rented_in', label: t('rentedIn') },
  ]
  return (
    <KeptForm
      id={`take-in-${siteId}`}
      action={takeInCylinderAction}
      refusedTitle={t('refused')}
      onDone={(taken) => router.push(`/cylinders/${taken.cylinderId}`)}
      className="flex flex-col gap-4 desk:max-w-[560px]"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <input type="hidden" name="tareUnit" value={massUnit} />
      <SelectField name="how" label={t('how')} options={how} />
      <SelectField
        name="supplierId"
        label={t('from')}
        emptyLabel={t('noSupplier')}
        options={suppliers}
      />
      <TextField name="serial" label={c('serial')} isIdentity maxLength={40} />
      <PlainTick name="isAnother" label={t('isAnother')} />
      <SelectField name="sizeId" label={c('size')} options={sizes} />
      <VesselBoxes massUnit={massUnit} />
      <TestBoxes />
      <SelectField name="areaId" label={t('area')} emptyLabel={c('onSitePlace')} options={areas} />
      <PlainTick name="isEmpty" label={c('itIsEmpty')} />
      <TextField name="filledOn" type="date" label={c('filledOn')} />
      <StorageConfirm />
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}

function VesselBoxes({ massUnit }: Pick<TakeInFormProps, 'massUnit'>) {
  const t = useTranslations('cylinders.takeIn')
  const c = useTranslations('cylinders')
  return (
    <>
      <SelectField
        name="vessel"
        label={t('vessel')}
        options={VESSELS.map((value) => ({ value, label: c(`vessel.${value}`) }))}
      />
      <TextField
        name="holds"
        label={t('holds')}
        note={t('holdsNote')}
        inputMode="numeric"
        maxLength={2}
      />
      <TextField name="spec" label={c('spec')} note={t('specNote')} isIdentity maxLength={40} />
      <TextField
        name="tare"
        label={t('tare', { unit: massUnit })}
        inputMode="decimal"
        maxLength={8}
      />
      <TextField name="madeMonth" label={t('made')} note={t('monthNote')} maxLength={7} />
    </>
  )
}

function TestBoxes() {
  const t = useTranslations('cylinders.takeIn')
  const c = useTranslations('cylinders')
  return (
    <>
      <TextField name="testedOn" type="date" label={c('testedOn')} />
      <SelectField
        name="method"
        label={c('methodHead')}
        emptyLabel={c('methodUnknown')}
        options={TEST_METHODS.map((value) => ({ value, label: c(`method.${value}`) }))}
      />
      <PlainTick name="isStarred" label={c('starred')} />
      <TextField
        name="dueMonth"
        label={c('dueAsStamped')}
        note={c('dueAsStampedNote')}
        maxLength={7}
      />
      <TextField name="serviceLifeEnds" type="date" label={t('lifeEnds')} />
    </>
  )
}

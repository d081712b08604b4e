'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, type SelectOption } from '@/app/_components/form/text-field'
import { chooseChartAction } from './actions'

type ChooseFormProps = Readonly<{
  outfitId: string
  label: string
  chartId: string
  options: readonly SelectOption[]
}>

/** Which chart this outfit's tips are set by. */
export function ChooseForm({ outfitId, label, chartId, options }: ChooseFormProps) {
  const t = useTranslations('charts')
  return (
    <KeptForm
      id={`chart-of-${outfitId}-${chartId}`}
      action={chooseChartAction}
      className="flex flex-wrap items-end gap-3 py-1"
    >
      <input type="hidden" name="outfitId" value={outfitId} />
      <div className="min-w-0 flex-1 basis-[240px]">
        <SelectField
          name="chartId"
          label={label}
          defaultValue={chartId}
          emptyLabel={t('builtIn')}
          options={options}
        />
      </div>
      <SubmitButton kind="plain" isWide={false}>
        {t('choose')}
      </SubmitButton>
    </KeptForm>
  )
}

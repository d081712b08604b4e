'use client'

import { useTranslations } from 'next-intl'
import { SelectField } from '@/app/_components/form/text-field'
import { ThreeWayAnswer } from '@/app/_components/form/three-way-answer'
import { CUT_FUELS, CUT_PROCESSES } from '@/lib/schemas/cut'

/** What the whole list burns, and whether a hand or a machine leads the torch. */
export function FuelAndProcess({ fuel, process }: Readonly<{ fuel: string; process: string }>) {
  const t = useTranslations('jobs')
  return (
    <>
      <SelectField
        name="fuel"
        label={t('fuel')}
        defaultValue={fuel}
        options={CUT_FUELS.map((code) => ({ value: code, label: t(`gas.${code}`) }))}
      />
      <ThreeWayAnswer
        name="process"
        label={t('process')}
        defaultValue={process}
        options={CUT_PROCESSES.map((code) => ({ value: code, label: t(`processes.${code}`) }))}
      />
    </>
  )
}

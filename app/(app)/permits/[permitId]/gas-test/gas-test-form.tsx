'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { KeptForm } from '@/app/_components/form/kept-form'
import { useReasonWords } from '@/app/_components/form/reason-words'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { parseTyped } from '@/app/_components/form/typed-number'
import { RefusalList } from '@/app/_components/refusal-list'
import type { Instrument } from '@/lib/data/instruments'
import type { GasTested } from '@/lib/data/permits/gas-tests'
import { AIR_OXYGEN_PCT } from '@/lib/permit/gas-test'
import { recordGasTestAction } from '../clearance/actions'
import { PermitFields } from '../permit-fields'
import { InstrumentBoxes } from './instrument-boxes'

const PERCENT = [{ unit: 'percent', label: '%' }] as const
const PPM = [{ unit: 'ppm', label: 'ppm' }] as const

type GasTestFormProps = Readonly<{
  permitId: string
  version: number
  today: string
  instrument: string
  instruments: readonly Instrument[]
  siteId: string
  backHref: string
}>

/** Oxygen, then LEL, then toxic: a low oxygen reading makes the flammable one unreliable. */
export function GasTestForm(props: GasTestFormProps) {
  const { permitId, version, today, instrument, instruments, siteId, backHref } = props
  const t = useTranslations('permit.gasTest')
  const words = useReasonWords()
  const router = useRouter()
  const [oxygen, setOxygen] = useState<number | null>(null)
  const [tested, setTested] = useState<GasTested | null>(null)
  const done = (data: GasTested) => {
    if (data.against.length === 0) router.push(backHref)
    setTested(data)
    router.refresh()
  }
  return (
    <KeptForm
      id={`gas-test-${permitId}`}
      action={recordGasTestAction}
      refusedTitle={t('notKept')}
      onDone={done}
      className="grid gap-3 px-4 py-3 desk:max-w-[480px] desk:px-0 [&>.refusal]:-mx-4"
    >
      {tested && tested.against.length > 0 ? (
        <RefusalList
          title={t(tested.isHeld ? 'badHeld' : 'bad')}
          note={t('badNote')}
          reasons={tested.against.map((reason) => ({ id: reason.code, ...words(reason) }))}
        />
      ) : null}
      <PermitFields permitId={permitId} version={version} />
      <div onInput={(event) => setOxygen(parseTyped((event.target as HTMLInputElement).value))}>
        <FieldWithUnit name="oxygenPct" label={t('oxygen')} units={PERCENT} />
      </div>
      {oxygen !== null && oxygen < AIR_OXYGEN_PCT ? (
        <TextField name="oxygenCause" label={t('cause')} note={t('causeNote')} maxLength={200} />
      ) : null}
      <FieldWithUnit name="lelPct" label={t('lel')} units={PERCENT} />
      <div className="grid grid-cols-2 gap-3">
        <FieldWithUnit name="coPpm" label={t('co')} units={PPM} />
        <FieldWithUnit name="h2sPpm" label={t('h2s')} units={PPM} />
      </div>
      <InstrumentBoxes instruments={instruments} siteId={siteId} typed={instrument} today={today} />
      <SubmitButton>{t('keep')}</SubmitButton>
    </KeptForm>
  )
}

'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { Instrument } from '@/lib/data/instruments'

type InstrumentBoxesProps = Readonly<{
  instruments: readonly Instrument[]
  siteId: string
  typed: string
  today: string
}>

/** One on record, with the days of its last checks; or another, whose days are typed in. */
export function InstrumentBoxes({ instruments, siteId, typed, today }: InstrumentBoxesProps) {
  const t = useTranslations('permit.gasTest')
  const [chosenId, setChosenId] = useState('')
  const chosen = instruments.find((one) => one.id === chosenId)
  return (
    <>
      {instruments.length > 0 ? (
        <SelectField
          name="instrumentId"
          label={t('instrument')}
          emptyLabel={t('another')}
          onChosen={setChosenId}
          options={instruments.map((one) => ({
            value: one.id,
            label: `${one.name}, ${one.model}`,
          }))}
        />
      ) : null}
      {chosen ? (
        <p className={`type-note ${chosen.isReady ? 'text-ink-2' : 'font-semibold text-heat'}`}>
          {chosen.bumpedOn ? t('wasBumped', { day: chosen.bumpedOn }) : t('notBumped')}{' '}
          {chosen.calibratedUntil
            ? t('isCalibrated', { day: chosen.calibratedUntil })
            : t('notCalibrated')}
        </p>
      ) : (
        <>
          <TextField
            name="instrument"
            label={t(instruments.length > 0 ? 'anotherName' : 'instrument')}
            defaultValue={typed}
            isIdentity
            note={t('instrumentNote')}
          />
          <div className="grid grid-cols-2 gap-3">
            <TextField name="bumpTestedOn" type="date" label={t('bumpTested')} defaultValue="" />
            <TextField name="calibratedUntil" type="date" label={t('calibrated')} defaultValue="" />
          </div>
        </>
      )}
      <p className="type-note text-ink-2">
        {t('today', { day: today })}{' '}
        <a className="text-link" href={`/instruments?site=${siteId}`}>
          {t('toInstruments')}
        </a>
      </p>
    </>
  )
}

'use client'

import { useTranslations } from 'next-intl'
import { type SyntheticEvent, useState } from 'react'
import type { CatalogueSize } from '@/lib/calc/catalogue-size'
import type { FormatPrefs } from '@/lib/format/prefs'
import { FieldWithUnit } from './form/field-with-unit'
import { ThreeWayAnswer } from './form/three-way-answer'
import type { FieldUnit } from './form/typed-number'
import { usePrefs } from './live/prefs'
import { readingMeaning } from './reading-meaning'

const PSI: FieldUnit = { unit: 'psi', label: 'psi' }
const KPA: FieldUnit = { unit: 'kPa', label: 'kPa' }
const DEG_F: FieldUnit = { unit: 'degF', label: '°F' }
const DEG_C: FieldUnit = { unit: 'degC', label: '°C' }
const LB: FieldUnit = { unit: 'lb', label: 'lb' }
const KG: FieldUnit = { unit: 'kg', label: 'kg' }

/** Oxygen is read by its gauge, propane only by weight, acetylene by either: the first is how it is mostly done. */
const WAYS: Readonly<Record<string, readonly ('gauge' | 'weight')[]>> = {
  oxygen: ['gauge', 'weight'],
  acetylene: ['gauge', 'weight'],
}
const BY_WEIGHT = ['weight'] as const

type ReadingBoxesProps = Readonly<{ size: CatalogueSize; tareKg: number | null }>

/**
 * The boxes of a reading: gauge, temperature or weight go out with the form around it. What they
 * mean stands under them at once, reckoned as the server will.
 */
export function ReadingBoxes({ size, tareKg }: ReadingBoxesProps) {
  const t = useTranslations('cylinders')
  const prefs = usePrefs()
  const ways = WAYS[size.gasId] ?? BY_WEIGHT
  const [by, setBy] = useState<string>(ways[0] ?? 'weight')
  const [meaning, setMeaning] = useState<string | null>(null)
  const reckon = (event: SyntheticEvent<HTMLDivElement>) => {
    const form = event.currentTarget.closest('form')
    if (form) setMeaning(readingMeaning({ typed: new FormData(form), size, tareKg, prefs, t }))
  }
  const options = ways.map((way) => ({
    value: way,
    label: t(way === 'gauge' ? 'byGauge' : 'byWeight'),
  }))
  return (
    <div className="flex flex-col gap-3" onInput={reckon} onChange={reckon}>
      {ways.length > 1 ? (
        <ThreeWayAnswer
          name="readBy"
          label={t('readBy')}
          isLabelHidden
          isSmall
          options={options}
          defaultValue={by}
          onAnswered={setBy}
        />
      ) : null}
      {by === 'gauge' ? <GaugeBoxes units={prefs.units} /> : <WeightBox units={prefs.units} />}
      <p className="type-body" role="status">
        {meaning}
      </p>
    </div>
  )
}

type Units = Readonly<Pick<FormatPrefs, 'units'>>

function GaugeBoxes({ units }: Units) {
  const t = useTranslations('cylinders')
  const isUs = units === 'us'
  return (
    <>
      <FieldWithUnit name="gauge" label={t('gauge')} units={isUs ? [PSI, KPA] : [KPA, PSI]} />
      <FieldWithUnit
        name="temperature"
        label={t('temperature')}
        note={t('temperatureNote')}
        units={isUs ? [DEG_F, DEG_C] : [DEG_C, DEG_F]}
      />
    </>
  )
}

function WeightBox({ units }: Units) {
  const t = useTranslations('cylinders')
  return (
    <FieldWithUnit
      name="weight"
      label={t('weight')}
      note={t('weightNote')}
      units={units === 'us' ? [LB, KG] : [KG, LB]}
    />
  )
}

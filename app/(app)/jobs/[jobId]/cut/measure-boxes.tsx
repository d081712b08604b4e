'use client'

import { useTranslations } from 'next-intl'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { SelectField } from '@/app/_components/form/text-field'
import type { FieldUnit } from '@/app/_components/form/typed-number'
import { usePrefs } from '@/app/_components/live/prefs'
import type { CutShapeCode } from '@/lib/schemas/cut'

type Box = 'thickness' | 'length' | 'width' | 'side' | 'diameter' | 'outside' | 'wall'

const BOXES_OF: Readonly<Record<CutShapeCode, readonly Box[]>> = {
  plate: ['thickness', 'length'],
  flat_bar: ['thickness', 'width'],
  square_bar: ['side'],
  round_bar: ['diameter'],
  pipe: ['outside', 'wall'],
  w_shape: [],
}

const IN: FieldUnit = { unit: 'in', label: 'in' }
const FT: FieldUnit = { unit: 'ft', label: 'ft' }
const MM: FieldUnit = { unit: 'mm', label: 'mm' }
const M: FieldUnit = { unit: 'm', label: 'm' }

/** Small measures in inches or millimetres, long ones in feet or metres; the person's own first. */
export function useLengthUnits(isLong: boolean): [FieldUnit, ...FieldUnit[]] {
  const { units } = usePrefs()
  if (isLong) return units === 'us' ? [FT, IN, M] : [M, MM, FT]
  return units === 'us' ? [IN, MM] : [MM, IN]
}

type MeasureBoxesProps = Readonly<{
  shape: CutShapeCode
  boxes: Readonly<Record<string, string>>
  designations: readonly string[]
}>

export function MeasureBoxes({ shape, boxes, designations }: MeasureBoxesProps) {
  const t = useTranslations('jobs')
  const small = useLengthUnits(false)
  const long = useLengthUnits(true)
  if (shape === 'w_shape') {
    const options = designations.map((name) => ({ value: name, label: name.replace('x', '×') }))
    return (
      <SelectField
        name="designation"
        label={t('box.designation')}
        note={t('wShapeNote')}
        options={options}
        defaultValue={boxes.designation ?? ''}
      />
    )
  }
  return (
    <>
      {BOXES_OF[shape].map((box) => (
        <FieldWithUnit
          key={box}
          name={box}
          label={t(box === 'length' ? 'box.length' : `box.${box}`)}
          units={box === 'length' ? long : small}
          defaultValue={boxes[box] ?? ''}
        />
      ))}
    </>
  )
}

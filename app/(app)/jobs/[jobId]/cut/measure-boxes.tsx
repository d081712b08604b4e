'use client'

import { useTranslations } from 'next-intl'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { MEASURE_BOXES, type MeasureBox } from '@/lib/schemas/cut-shapes'
import type { AskedCut } from './asked-cut'
import { useBoxUnits } from './use-box-units'

type MeasureBoxesProps = AskedCut &
  Readonly<{ names: readonly MeasureBox[]; boxes: Readonly<Record<string, string>> }>

/** Boxes of measures. One that this cut is not asked for is out of sight and keeps what was typed. */
export function MeasureBoxes({ names, boxes, shape, task, asked }: MeasureBoxesProps) {
  const t = useTranslations('jobs')
  const units = useBoxUnits()
  const labelOf = (box: MeasureBox) => {
    const own = `taskBox.${task}.${box}` as 'taskBox.hole.along'
    const ofShape = `shapeBox.${shape}.${box}` as 'shapeBox.gouge.area'
    if (t.has(own)) return t(own)
    return t.has(ofShape) ? t(ofShape) : t(`box.${box}`)
  }
  const noteOf = (box: MeasureBox) => {
    const note = `boxNote.${box}` as 'boxNote.pieceWeight'
    return t.has(note) ? t(note) : null
  }
  return names.map((box) => (
    <div key={box} hidden={!asked.has(box)}>
      <FieldWithUnit
        name={box}
        label={labelOf(box)}
        note={noteOf(box)}
        units={units[MEASURE_BOXES[box]]}
        defaultValue={boxes[box] ?? ''}
      />
    </div>
  ))
}

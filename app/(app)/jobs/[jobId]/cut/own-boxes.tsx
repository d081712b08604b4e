'use client'

import { useTranslations } from 'next-intl'
import { type CutShapeCode, isByArea } from '@/lib/schemas/cut-shapes'
import type { AskedCut } from './asked-cut'
import { MeasureBoxes } from './measure-boxes'

type OwnBoxesProps = AskedCut &
  Readonly<{ boxes: Readonly<Record<string, string>>; isByTable: boolean }>

const OWN = ['ownOxygen', 'ownFuel', 'ownSpeed', 'ownArea'] as const

const isNeeded = (shape: CutShapeCode, isByTable: boolean) => isByArea(shape) || !isByTable

/** The person's own gas and speed, where no table tells: at once for what the table refuses, else behind a line. */
export function OwnBoxes({ boxes, isByTable, ...cut }: OwnBoxesProps) {
  const t = useTranslations('jobs')
  const needed = isNeeded(cut.shape, isByTable)
  const isTyped = OWN.some((box) => boxes[box])
  return (
    <details className="fold is-spaced" open={needed || isTyped || undefined}>
      <summary className="field-label">{t('own')}</summary>
      <p className="field-note">{t(needed ? 'ownNeeded' : 'ownNote')}</p>
      <div className="flex flex-col gap-4 pt-3">
        <MeasureBoxes names={OWN} boxes={boxes} {...cut} />
      </div>
    </details>
  )
}

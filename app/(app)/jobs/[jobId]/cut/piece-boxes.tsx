'use client'

import { useTranslations } from 'next-intl'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import type { FieldUnit } from '@/app/_components/form/typed-number'
import { usePrefs } from '@/app/_components/live/prefs'
import type { CutShapeCode } from '@/lib/schemas/cut'
import { useLengthUnits } from './measure-boxes'

const LB: FieldUnit = { unit: 'lb', label: 'lb' }
const KG: FieldUnit = { unit: 'kg', label: 'kg' }
const FT2: FieldUnit = { unit: 'ft2', label: 'ft²' }
const M2: FieldUnit = { unit: 'm2', label: 'm²' }

/** What comes down with each cut: its size, from which the weight follows, or the weight itself. */
export function PieceBoxes({
  shape,
  boxes,
}: Readonly<{ shape: CutShapeCode; boxes: Readonly<Record<string, string>> }>) {
  const t = useTranslations('jobs')
  const isUs = usePrefs().units === 'us'
  const long = useLengthUnits(true)
  return (
    <>
      {shape === 'plate' ? (
        <FieldWithUnit
          name="pieceArea"
          label={t('box.pieceArea')}
          note={t('pieceNote')}
          units={isUs ? [FT2, M2] : [M2, FT2]}
          defaultValue={boxes.pieceArea ?? ''}
        />
      ) : (
        <FieldWithUnit
          name="pieceLength"
          label={t('box.pieceLength')}
          note={t('pieceNote')}
          units={long}
          defaultValue={boxes.pieceLength ?? ''}
        />
      )}
      <FieldWithUnit
        name="pieceWeight"
        label={t('box.pieceWeight')}
        note={t('pieceWeightNote')}
        units={isUs ? [LB, KG] : [KG, LB]}
        defaultValue={boxes.pieceWeight ?? ''}
      />
    </>
  )
}

'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { MATERIAL_CODES } from '@/lib/calc/materials'
import { COATINGS, CUT_SHAPES, type CutShapeCode, POSITIONS } from '@/lib/schemas/cut'
import { saveCutAction } from '../actions'
import { MeasureBoxes } from './measure-boxes'
import { PieceBoxes } from './piece-boxes'
import { TickBox } from './tick-box'
import type { TypedCut } from './typed-from'

type CutFormProps = Readonly<{
  cutListId: string
  typed: TypedCut
  cut: { id: string; version: number } | null
  designations: readonly string[]
}>

/** One cut: what it is of, its own measures in the person's units, how many, where, and what comes down. */
export function CutForm({ cutListId, typed, cut, designations }: CutFormProps) {
  const t = useTranslations('jobs')
  const [shape, setShape] = useState<CutShapeCode>(typed.shape)
  const options = <T extends string>(codes: readonly T[], say: (code: T) => string) =>
    codes.map((code) => ({ value: code, label: say(code) }))
  return (
    <KeptForm
      id={cut ? `cut-${cut.id}-${cut.version}` : `new-cut-${cutListId}`}
      action={saveCutAction}
      refusedTitle={t('cutRefused')}
      className="flex flex-col gap-4"
    >
      <input type="hidden" name="cutListId" value={cutListId} />
      {cut ? (
        <>
          <input type="hidden" name="cutId" value={cut.id} />
          <input type="hidden" name="version" value={cut.version} />
        </>
      ) : null}
      <SelectField
        name="shape"
        label={t('shape')}
        defaultValue={typed.shape}
        onChosen={(value) => setShape(value as CutShapeCode)}
        options={options(CUT_SHAPES, (code) => t(`shapes.${code}`))}
      />
      <MeasureBoxes key={shape} shape={shape} boxes={typed.boxes} designations={designations} />
      <TextField
        name="count"
        label={t('count')}
        inputMode="numeric"
        defaultValue={typed.boxes.count ?? ''}
      />
      <SelectField
        name="material"
        label={t('material')}
        defaultValue={typed.material}
        options={options(MATERIAL_CODES, (code) => t(`materials.${code}`))}
      />
      <SelectField
        name="coating"
        label={t('coating')}
        note={t('coatingNote')}
        defaultValue={typed.coating}
        emptyLabel={t('coatingAsk')}
        options={options(COATINGS, (code) => t(`coatings.${code}`))}
      />
      <SelectField
        name="position"
        label={t('positionLabel')}
        defaultValue={typed.position}
        options={options(POSITIONS, (code) => t(`position.${code}`))}
      />
      <TextField
        name="bevel"
        label={t('bevel')}
        note={t('bevelNote')}
        inputMode="decimal"
        defaultValue={typed.boxes.bevel ?? ''}
      />
      <fieldset>
        <legend className="field-label">{t('conditions')}</legend>
        <TickBox name="pierced" label={t('pierced')} isTicked={typed.pierced} />
        <TickBox name="dirty" label={t('dirty')} isTicked={typed.dirty} />
        <TickBox name="awkward" label={t('awkward')} isTicked={typed.awkward} />
      </fieldset>
      <PieceBoxes key={`piece-${shape}`} shape={shape} boxes={typed.boxes} />
      <TextField
        name="title"
        label={t('cutName')}
        note={t('cutNameNote')}
        defaultValue={typed.boxes.title ?? ''}
        maxLength={80}
      />
      <TextField
        name="note"
        label={t('note')}
        rows={2}
        defaultValue={typed.boxes.note ?? ''}
        maxLength={300}
      />
      <SubmitButton>{cut ? t('saveCut') : t('addCut')}</SubmitButton>
    </KeptForm>
  )
}

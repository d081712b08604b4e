'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { COATING_CODES, isMaterialCode, MATERIAL_CODES, MATERIALS } from '@/lib/calc/materials'
import { POSITIONS } from '@/lib/schemas/cut'
import { boxesOfCut, CUT_SHAPES, type CutShapeCode, taskOf } from '@/lib/schemas/cut-shapes'
import { saveCutAction } from '../actions'
import { CoatingWords } from '../coating-words'
import { ConditionBoxes } from './condition-boxes'
import { MeasureBoxes } from './measure-boxes'
import { MetalWords } from './metal-words'
import { OwnBoxes } from './own-boxes'
import { SectionBoxes } from './section-boxes'
import { TaskBoxes } from './task-boxes'
import type { TypedCut } from './typed-from'

type CutFormProps = Readonly<{
  cutListId: string
  typed: TypedCut
  cut: { id: string; version: number } | null
}>

const OF_SECTION = [
  'thickness',
  'length',
  'width',
  'side',
  'diameter',
  'outside',
  'wall',
  'shank',
  'area',
  'depth',
] as const

/** One cut: what it is of, its own measures in the person's units, how many, where, and what comes down. */
export function CutForm({ cutListId, typed, cut }: CutFormProps) {
  const t = useTranslations('jobs')
  const [shape, setShape] = useState<CutShapeCode>(typed.shape)
  const [askedTask, setTask] = useState<string>(typed.task)
  const [material, setMaterial] = useState(typed.material)
  const [coating, setCoating] = useState(typed.coating)
  const options = <T extends string>(codes: readonly T[], say: (code: T) => string) =>
    codes.map((code) => ({ value: code, label: say(code) }))
  const task = taskOf(shape, askedTask)
  const asking = { shape, task, asked: boxesOfCut(shape, task) }
  const isByTable = !isMaterialCode(material) || MATERIALS[material].cuttable
  return (
    <KeptForm
      id={cut ? `cut-${cut.id}-${cut.version}` : `new-cut-${cutListId}`}
      action={saveCutAction}
      refusedTitle={t('cutRefused')}
      className="cut-form"
    >
      <input type="hidden" name="cutListId" value={cutListId} />
      {cut ? (
        <>
          <input type="hidden" name="cutId" value={cut.id} />
          <input type="hidden" name="version" value={cut.version} />
        </>
      ) : null}
      <section className="cut-form-part" aria-label={t('formPart.what')}>
        <h2 className="type-section">{t('formPart.what')}</h2>
        <SelectField
          name="shape"
          label={t('shape')}
          defaultValue={typed.shape}
          onChosen={(value) => setShape(value as CutShapeCode)}
          options={options(CUT_SHAPES, (code) => t(`shapes.${code}`))}
        />
        <SectionBoxes shape={shape} start={typed.sections} />
        <MeasureBoxes names={OF_SECTION} boxes={typed.boxes} {...asking} />
        <TaskBoxes typed={typed} onTask={setTask} {...asking} />
        <TextField
          name="count"
          label={t('count')}
          inputMode="numeric"
          defaultValue={typed.boxes.count ?? ''}
        />
        <MeasureBoxes
          names={['pieceArea', 'pieceLength', 'pieceWeight']}
          boxes={typed.boxes}
          {...asking}
        />
      </section>
      <section className="cut-form-part" aria-label={t('formPart.how')}>
        <h2 className="type-section">{t('formPart.how')}</h2>
        <SelectField
          name="material"
          label={t('material')}
          defaultValue={typed.material}
          onChosen={setMaterial}
          options={options(MATERIAL_CODES, (code) => t(`materials.${code}`))}
        />
        <MetalWords material={material} />
        <SelectField
          name="coating"
          label={t('coating')}
          note={t('coatingNote')}
          defaultValue={typed.coating}
          emptyLabel={t('coatingAsk')}
          onChosen={setCoating}
          options={options(COATING_CODES, (code) => t(`coatings.${code}`))}
        />
        <CoatingWords coating={coating} />
        <SelectField
          name="position"
          label={t('positionLabel')}
          defaultValue={typed.position}
          options={options(POSITIONS, (code) => t(`position.${code}`))}
        />
        <ConditionBoxes typed={typed} {...asking} />
        <OwnBoxes boxes={typed.boxes} isByTable={isByTable} {...asking} />
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
      </section>
      <div className="cut-form-send">
        <SubmitButton>{cut ? t('saveCut') : t('addCut')}</SubmitButton>
      </div>
    </KeptForm>
  )
}

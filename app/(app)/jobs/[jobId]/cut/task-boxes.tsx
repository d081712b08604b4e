'use client'

import { useTranslations } from 'next-intl'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { CUT_TASKS, SHAPES } from '@/lib/schemas/cut-shapes'
import type { AskedCut } from './asked-cut'
import { MeasureBoxes } from './measure-boxes'

type TaskBoxesProps = AskedCut &
  Readonly<{
    typed: Readonly<{ boxes: Readonly<Record<string, string>>; task: string; part: string }>
    onTask: (task: string) => void
  }>

/** What is done to the section, and the measures of that: cut through, hole, notch, cope, bevel. */
export function TaskBoxes({ typed, onTask, ...cut }: TaskBoxesProps) {
  const t = useTranslations('jobs')
  const { shape, task, asked } = cut
  const may = SHAPES[shape].tasks
  const parts = shape === 'angle' || shape === 'hss' ? shape : 'flanged'
  const number = (name: 'bevel' | 'miter' | 'stack') => (
    <div hidden={!asked.has(name)}>
      <TextField
        name={name}
        label={t(name === 'bevel' && task === 'bevel' ? 'bevelEdge' : name)}
        note={t(name === 'bevel' && task === 'bevel' ? 'bevelEdgeNote' : `${name}Note`)}
        inputMode={name === 'stack' ? 'numeric' : 'decimal'}
        defaultValue={typed.boxes[name] ?? ''}
      />
    </div>
  )
  return (
    <>
      <div hidden={!asked.has('task')}>
        <SelectField
          key={shape}
          name="task"
          label={t('task')}
          defaultValue={task}
          onChosen={onTask}
          options={CUT_TASKS.map((one) => ({
            value: one,
            label: t(`tasks.${one}`),
            isOff: !may.includes(one),
          }))}
        />
      </div>
      <MeasureBoxes names={['along', 'into']} boxes={typed.boxes} {...cut} />
      {number('bevel')}
      <MeasureBoxes names={['land']} boxes={typed.boxes} {...cut} />
      {number('miter')}
      <div hidden={!asked.has('part')}>
        <SelectField
          name="part"
          label={t(task === 'sever' ? 'miterOn' : 'taskOn')}
          defaultValue={typed.part || 'web'}
          options={(['web', 'flange'] as const).map((part) => ({
            value: part,
            label: t(`parts.${parts}.${part}`),
          }))}
        />
      </div>
      {number('stack')}
    </>
  )
}

'use client'

import { useTranslations } from 'next-intl'
import { useEffect, useMemo, useState } from 'react'
import {
  isReckonTool,
  RECKON_FIELDS,
  type ReckonField,
  type ReckonTool,
  type ReckonUnits,
  type ReckonValues,
  readReckon,
} from '@/lib/schemas/reckon'
import { reckon } from '../reckon'
import { AnswerView } from './answer-view'
import { HosePlot } from './hose-plot'

type ReckonerProps = Readonly<{ tool: ReckonTool; units: ReckonUnits; start: ReckonValues }>

/** The boxes and what they come to, worked out as they are typed; the address carries them. */
export function Reckoner({ tool, units, start }: ReckonerProps) {
  const t = useTranslations('reckon')
  const [values, setValues] = useState(start)
  const read = useMemo(() => readReckon(tool, values, units), [tool, values, units])
  const answer = useMemo(() => (read?.ok ? reckon(tool, read.read) : null), [tool, read])
  useEffect(() => {
    const filled = Object.entries(values).filter(([, text]) => text.trim() !== '')
    const query = new URLSearchParams({ units, ...Object.fromEntries(filled) })
    if (isReckonTool(tool) && filled.length > 0)
      window.history.replaceState(null, '', `/reckon/${tool}?${query}`)
  }, [tool, units, values])
  const wrong = read && !read.ok ? read.wrong : []
  return (
    <div className="grid gap-x-12 gap-y-4 px-4 pt-3 pb-4 desk:pt-0 desk:grid-cols-2 desk:px-8">
      <div className="flex flex-col gap-4">
        {RECKON_FIELDS[tool].map((field) => (
          <Box
            key={field.name}
            field={field}
            units={units}
            text={values[field.name] ?? ''}
            isWrong={wrong.includes(field.name)}
            onText={(text) => setValues((was) => ({ ...was, [field.name]: text }))}
          />
        ))}
      </div>
      <div className="min-w-0">
        <div role="status">
          {answer ? (
            <AnswerView answer={answer} units={units} />
          ) : (
            <p className="type-body">{t(wrong.length > 0 ? 'wrong' : 'fill')}</p>
          )}
        </div>
        {tool === 'hose' && read?.ok && answer?.ok ? (
          <HosePlot read={read.read} units={units} />
        ) : null}
        <p className="mt-4 type-small text-ink-2">{t('link')}</p>
      </div>
    </div>
  )
}

type BoxProps = Readonly<{
  field: ReckonField
  units: ReckonUnits
  text: string
  isWrong: boolean
  onText: (text: string) => void
}>

function Box({ field, units, text, isWrong, onText }: BoxProps) {
  const t = useTranslations('reckon')
  const id = `reckon-${field.name}`
  const isBare = field.kind === 'choice' || field.kind === 'count'
  const unit = isBare ? '' : t(`unit.${units}.${field.kind}` as 'unit.us.pressure')
  return (
    <div className={`field ${isWrong ? 'field-wrong' : ''}`}>
      <label className="field-label" htmlFor={id}>
        {t(`box.${field.name}` as 'box.gas')}
        {field.isOptional ? ` ${t('optional')}` : ''}
      </label>
      <div className="field-box">
        {field.kind === 'choice' ? (
          <select id={id} value={text} onChange={(event) => onText(event.target.value)}>
            <option value="">{t('choose')}</option>
            {field.choices?.map((code) => (
              <option key={code} value={code}>
                {t(`choice.${code}` as 'choice.oxygen')}
              </option>
            ))}
          </select>
        ) : (
          <>
            <input
              id={id}
              value={text}
              inputMode={field.kind === 'weights' ? 'text' : 'decimal'}
              autoComplete="off"
              className="field-number"
              aria-invalid={isWrong || undefined}
              onChange={(event) => onText(event.target.value)}
            />
            {unit ? <span className="field-unit">{unit}</span> : null}
          </>
        )}
      </div>
      {isWrong ? <p className="field-error">{t('noNumber')}</p> : null}
    </div>
  )
}

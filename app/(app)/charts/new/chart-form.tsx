'use client'

import { useTranslations } from 'next-intl'
import { useId, useMemo, useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { MATERIAL_CODES } from '@/lib/calc/materials'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import type { TipChart } from '@/lib/calc/tables/tip-chart'
import { CUT_FUELS } from '@/lib/schemas/cut'
import { type ChartProblem, readChart } from '@/lib/schemas/tip-chart'
import { saveChartAction } from '../actions'
import { ChartPlot } from '../chart-plot'

type ChartFormProps = Readonly<{
  sites: readonly Readonly<{ id: string; name: string }>[]
  siteId: string
  replacesId: string
  title: string
  source: string
  fuel: string
  material: string
  rows: string
}>

/** A shop's own chart: typed or pasted, read line by line as it is typed, and drawn beside the built-in table. */
export function ChartForm({
  sites,
  siteId,
  replacesId,
  title,
  source,
  fuel,
  material,
  rows,
}: ChartFormProps) {
  const [t, jobs] = [useTranslations('charts'), useTranslations('jobs')]
  const id = useId()
  const [gas, setGas] = useState(fuel as (typeof CUT_FUELS)[number])
  const [text, setText] = useState(rows)
  const read = useMemo(() => readChart(text, gas), [text, gas])
  const chart: TipChart = {
    id: 'typed',
    title,
    source,
    provenance: 'entered',
    materials: [material],
    rows: read.rows,
  }
  const isWhole = read.problems.length === 0 && read.rows.length >= 2
  return (
    <KeptForm
      id={`chart-${replacesId || 'new'}`}
      action={saveChartAction}
      refusedTitle={t('refused')}
      className="grid gap-x-12 gap-y-4 desk:grid-cols-2"
    >
      <div className="flex min-w-0 flex-col gap-4">
        <input type="hidden" name="replacesId" value={replacesId} />
        <TextField name="title" label={t('chartTitle')} defaultValue={title} maxLength={80} />
        <TextField
          name="source"
          label={t('source')}
          note={t('sourceNote')}
          defaultValue={source}
          maxLength={300}
        />
        <SelectField
          name="siteId"
          label={jobs('site')}
          defaultValue={siteId}
          options={sites.map((site) => ({ value: site.id, label: site.name }))}
        />
        <SelectField
          name="fuel"
          label={jobs('fuel')}
          defaultValue={fuel}
          onChosen={(value) => setGas(value as typeof gas)}
          options={CUT_FUELS.map((code) => ({ value: code, label: jobs(`gas.${code}`) }))}
        />
        <SelectField
          name="material"
          label={jobs('material')}
          defaultValue={material}
          options={MATERIAL_CODES.map((code) => ({
            value: code,
            label: jobs(`materials.${code}`),
          }))}
        />
        <div className="field">
          <label className="field-label" htmlFor={id}>
            {t('rows')}
          </label>
          <div className="field-box">
            <textarea
              id={id}
              name="rows"
              rows={10}
              value={text}
              spellCheck={false}
              className="type-ident"
              aria-describedby={`${id}-said`}
              onChange={(event) => setText(event.target.value)}
            />
          </div>
          <p className="field-note">{t('rowsNote')}</p>
        </div>
      </div>
      <div className="min-w-0">
        <div id={`${id}-said`} role="status" className="type-note">
          <p className="font-semibold">
            {t('rowsRead', { count: read.rows.length, wrong: read.problems.length })}
          </p>
          {read.unknownHeads.length > 0 ? (
            <p>{t('unknownHeads', { list: read.unknownHeads.join(', ') })}</p>
          ) : null}
        </div>
        <Problems problems={read.problems} />
        {isWhole ? (
          <div className="py-3">
            <ChartPlot chart={chart} beside={OFC_CARBON_STEEL} of="cuttingOxygenFt3PerH" />
            <ChartPlot chart={chart} beside={OFC_CARBON_STEEL} of="speedInPerMin" />
            <p className="type-note text-ink-2">{t('keyBeside')}</p>
          </div>
        ) : null}
        <SubmitButton>{t('save')}</SubmitButton>
      </div>
    </KeptForm>
  )
}

function Problems({ problems }: Readonly<{ problems: readonly ChartProblem[] }>) {
  const t = useTranslations('charts')
  if (problems.length === 0) return null
  return (
    <ul className="py-2 type-note text-heat">
      {problems.slice(0, 100).map(({ row, column, code, value }) => (
        <li key={`${row} ${column} ${code}`}>
          <b className="font-semibold text-ink">{t('line', { row: row + 1 })}</b>{' '}
          {t(`name.${column}`)}: {t(`problem.${code}` as 'problem.REQUIRED', { value })}
        </li>
      ))}
    </ul>
  )
}

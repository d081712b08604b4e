'use client'

import { useTranslations } from 'next-intl'
import {
  Bar,
  BarChart,
  CartesianGrid,
  Cell,
  ErrorBar,
  ResponsiveContainer,
  XAxis,
  YAxis,
} from 'recharts'

export type ChartRow = Readonly<{
  name: string
  kind: 'estimate' | 'used'
  value: number
  /** How far the nine-in-ten interval reaches below and above. */
  error: readonly [number, number]
}>

const TICK = { fill: 'var(--ink)', fontSize: 14 }

/** Estimate and use with their intervals; the estimate is an outline, use is ink. Its table stands below it. */
export function UsageChart({ rows, unit }: Readonly<{ rows: readonly ChartRow[]; unit: string }>) {
  const t = useTranslations('audit')
  const label = t('chartLabel')
  return (
    <figure aria-label={label}>
      <div aria-hidden="true" style={{ height: 60 + rows.length * 46 }}>
        <ResponsiveContainer
          width="100%"
          height="100%"
          initialDimension={{ width: 560, height: 240 }}
        >
          <BarChart
            data={[...rows]}
            layout="vertical"
            margin={{ top: 4, right: 40, bottom: 20, left: 0 }}
            accessibilityLayer={false}
          >
            <CartesianGrid horizontal={false} stroke="var(--rule)" />
            <XAxis
              type="number"
              domain={[0, 'dataMax + 10']}
              tick={TICK}
              stroke="var(--ink)"
              tickLine={false}
              label={{
                value: unit,
                position: 'insideBottomRight',
                offset: -12,
                fill: 'var(--ink)',
              }}
            />
            <YAxis
              type="category"
              dataKey="name"
              width={170}
              tick={TICK}
              stroke="var(--ink)"
              tickLine={false}
            />
            <Bar dataKey="value" barSize={18} isAnimationActive={false}>
              {rows.map((row) => (
                <Cell
                  key={row.name}
                  fill={row.kind === 'used' ? 'var(--bar)' : 'var(--paper)'}
                  stroke="var(--bar)"
                  strokeWidth={1.5}
                />
              ))}
              <ErrorBar
                dataKey="error"
                direction="x"
                width={10}
                strokeWidth={2}
                stroke="var(--heat)"
              />
            </Bar>
          </BarChart>
        </ResponsiveContainer>
      </div>
      <figcaption className="type-small text-ink-2">{t('chartKey')}</figcaption>
    </figure>
  )
}

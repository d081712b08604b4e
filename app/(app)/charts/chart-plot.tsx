'use client'

import { useTranslations } from 'next-intl'
import {
  Area,
  CartesianGrid,
  ComposedChart,
  Line,
  ResponsiveContainer,
  XAxis,
  YAxis,
} from 'recharts'
import type { TipChart } from '@/lib/calc/tables/tip-chart'
import { formatNumber } from '@/lib/format/numbers'

const TICK = { fill: 'var(--ink)', fontSize: 14 }

type Quantity = 'speedInPerMin' | 'cuttingOxygenFt3PerH'
type PlotProps = Readonly<{
  chart: TipChart
  /** Drawn dashed beside a shop's own. */
  beside?: TipChart | null
  of: Quantity
}>

/** The low and high of one column over thickness: the band is the chart's own range, dashed lines the built-in table. */
export function ChartPlot({ chart, beside = null, of }: PlotProps) {
  const t = useTranslations('charts')
  const data = dataOf(chart, beside, of)
  const most = Math.max(...data.map((row) => row.thickness))
  return (
    <figure aria-label={t(`plot.${of}`)} className="min-w-0">
      <figcaption className="type-label">{t(`plot.${of}`)}</figcaption>
      <div aria-hidden="true" className="h-[240px] overflow-hidden">
        <ResponsiveContainer
          width="100%"
          height="100%"
          initialDimension={{ width: 328, height: 240 }}
        >
          <ComposedChart
            data={data}
            margin={{ top: 8, right: 16, bottom: 20, left: 0 }}
            accessibilityLayer={false}
          >
            <CartesianGrid vertical={false} stroke="var(--rule)" />
            <XAxis
              dataKey="thickness"
              type="number"
              domain={[0, most]}
              tick={TICK}
              stroke="var(--ink)"
              tickLine={false}
              tickFormatter={(value: number) => formatNumber(value, value % 1 === 0 ? 0 : 1)}
              label={{
                value: t('axis.thickness'),
                position: 'insideBottomRight',
                offset: -12,
                fill: 'var(--ink-2)',
                fontSize: 13,
              }}
            />
            <YAxis
              width={52}
              tick={TICK}
              stroke="var(--ink)"
              tickLine={false}
              axisLine={false}
              tickFormatter={(value: number) => formatNumber(value)}
            />
            <Area
              dataKey="range"
              connectNulls
              isAnimationActive={false}
              fill="var(--fan-dark)"
              stroke="var(--bar)"
              strokeWidth={2}
              dot={{ r: 2.5, fill: 'var(--ink)', stroke: 'none' }}
            />
            {(['besideLow', 'besideHigh'] as const).map((key) => (
              <Line
                key={key}
                dataKey={key}
                connectNulls
                dot={false}
                isAnimationActive={false}
                stroke="var(--ink-2)"
                strokeWidth={1.5}
                strokeDasharray="4 3"
              />
            ))}
          </ComposedChart>
        </ResponsiveContainer>
      </div>
    </figure>
  )
}

/** Points of both charts in one list by thickness; within the thicknesses of the one that is looked at. */
function dataOf(chart: TipChart, beside: TipChart | null, of: Quantity) {
  const last = chart.rows.at(-1)?.thicknessIn ?? 0
  const own = chart.rows.map((row) => ({ thickness: row.thicknessIn, range: [...row[of]] }))
  const others = (beside?.rows ?? [])
    .filter((row) => row.thicknessIn <= last)
    .map((row) => ({ thickness: row.thicknessIn, besideLow: row[of][0], besideHigh: row[of][1] }))
  const all = [...own, ...others].sort((a, b) => a.thickness - b.thickness)
  return all.map((row) => ({ ...row }))
}

'use client'

import { useTranslations } from 'next-intl'
import { Bar, BarChart, CartesianGrid, ResponsiveContainer, XAxis, YAxis } from 'recharts'
import { formatNumber } from '@/lib/format/numbers'

export type ChartRow = Readonly<{
  name: string
  kind: 'estimate' | 'used'
  /** What the bar spans: the estimate's nine in ten; use from nothing to its high end. */
  range: readonly [number, number]
  /** The estimate's middle, or the teeth of use; the first tooth ends the solid ink. */
  marks: readonly number[]
  /** The mark that is the number printed. */
  middle: number
}>

const TICK = { fill: 'var(--ink)', fontSize: 14 }
const BAR_PX = 20

type ShapeProps = Readonly<{
  x?: number
  y?: number
  width?: number
  height?: number
  payload?: ChartRow
}>

/** The same drawing as in the tables: an outline with its middle; ink with teeth. */
function RangeShape({ x = 0, y = 0, width = 0, height = 0, payload }: ShapeProps) {
  if (!payload) return null
  const [from, to] = payload.range
  const px = (value: number) => x + (to > from ? ((value - from) / (to - from)) * width : 0)
  const [solidTo = to, ...teeth] = payload.marks
  if (payload.kind === 'estimate')
    return (
      <g>
        <rect
          {...{ x, y, width, height }}
          fill="var(--paper)"
          stroke="var(--bar)"
          strokeWidth="2"
        />
        <path d={`M${px(payload.middle)} ${y}v${height}`} stroke="var(--ink)" strokeWidth="2" />
      </g>
    )
  return (
    <g>
      <rect x={x} y={y} width={Math.max(2, px(solidTo) - x)} height={height} fill="var(--bar)" />
      {teeth.map((tooth) => {
        const grow = tooth === payload.middle ? 4 : 0
        return (
          <path
            key={tooth}
            d={`M${px(tooth)} ${y - grow}v${height + 2 * grow}`}
            stroke={grow > 0 ? 'var(--ink)' : 'var(--bar)'}
            strokeWidth="2"
          />
        )
      })}
    </g>
  )
}

type ChartProps = Readonly<{
  rows: readonly ChartRow[]
  unit: string
  ticks: readonly number[]
  top: number
  label: string
}>

/** Estimate and use of one gas with their intervals. Its table stands below it. */
export function UsageChart({ rows, unit, ticks, top, label }: ChartProps) {
  const t = useTranslations('audit')
  return (
    <figure aria-label={label}>
      <div aria-hidden="true" className="overflow-hidden" style={{ height: 34 + rows.length * 38 }}>
        <ResponsiveContainer
          width="100%"
          height="100%"
          initialDimension={{ width: 480, height: 110 }}
        >
          <BarChart
            data={[...rows]}
            layout="vertical"
            margin={{ top: 4, right: 24, bottom: 0, left: 0 }}
            accessibilityLayer={false}
          >
            <CartesianGrid horizontal={false} stroke="var(--rule)" />
            <XAxis
              type="number"
              domain={[0, top]}
              ticks={[...ticks]}
              tick={TICK}
              tickFormatter={(value: number) =>
                value === 0 ? t('chartZero', { unit }) : formatNumber(value)
              }
              stroke="var(--ink)"
              tickLine={false}
            />
            <YAxis
              type="category"
              dataKey="name"
              width={76}
              tick={TICK}
              stroke="var(--ink)"
              tickLine={false}
              axisLine={{ strokeWidth: 2 }}
            />
            <Bar dataKey="range" barSize={BAR_PX} isAnimationActive={false} shape={RangeShape} />
          </BarChart>
        </ResponsiveContainer>
      </div>
    </figure>
  )
}

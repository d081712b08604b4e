'use client'

import { useTranslations } from 'next-intl'
import { Bar, BarChart, CartesianGrid, ResponsiveContainer, XAxis, YAxis } from 'recharts'
import { formatNumber } from '@/lib/format/numbers'

export type ChartRow = Readonly<{
  name: string
  kind: 'estimate' | 'step' | 'used'
  /** What the bar spans: the nine in ten of an estimate or a step, with where the step began; use from nothing to its high end. */
  range: readonly [number, number]
  /**
   * The estimate's middle; where a step began, its low and its high end; or the teeth of use, of which the
   * first ends the solid ink.
   */
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

type DrawnStep = Readonly<{
  row: ChartRow
  px: (value: number) => number
  y: number
  height: number
}>

/** From where the row above ended to where this one does, and how sure that is. */
function StepShape({ row, px, y, height }: DrawnStep) {
  const [began = row.middle, low = row.middle, high = row.middle] = row.marks
  const [from, to] = [px(began), px(row.middle)]
  const line = y + height / 2
  return (
    <g>
      <rect
        x={Math.min(from, to)}
        y={y + 4}
        width={Math.max(2, Math.abs(to - from))}
        height={height - 8}
        fill="var(--spent)"
      />
      <path
        d={`M${px(low)} ${line}H${px(high)}M${px(low)} ${line - 5}v10M${px(high)} ${line - 5}v10M${to} ${y}v${height}`}
        stroke="var(--ink)"
        strokeWidth="2"
      />
    </g>
  )
}

/** The same drawing as in the tables: an outline with its middle; ink with teeth. */
function RangeShape({ x = 0, y = 0, width = 0, height = 0, payload }: ShapeProps) {
  if (!payload) return null
  const [from, to] = payload.range
  const px = (value: number) => x + (to > from ? ((value - from) / (to - from)) * width : 0)
  const [solidTo = to, ...teeth] = payload.marks
  if (payload.kind === 'step') return <StepShape row={payload} px={px} y={y} height={height} />
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
              width={92}
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

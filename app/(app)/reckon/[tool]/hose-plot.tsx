'use client'

import { useTranslations } from 'next-intl'
import { useMemo } from 'react'
import {
  Area,
  CartesianGrid,
  ComposedChart,
  Line,
  ReferenceDot,
  ResponsiveContainer,
  XAxis,
  YAxis,
} from 'recharts'
import { convert } from '@/lib/calc/units'
import { formatNumber } from '@/lib/format/numbers'
import type { ReckonRead, ReckonUnits } from '@/lib/schemas/reckon'
import { type Figure, reckon } from '../reckon'

const TICK = { fill: 'var(--ink)', fontSize: 14 }
const POINTS = 16
/** Drawn to twice the hose that is asked about, or to the longest of this bore. */
const TIMES_ASKED = 2

type Point = Readonly<{ length: number; middle: number; range: readonly [number, number] }>

function regulatorAt(read: ReckonRead, lengthM: number): Figure | null {
  const answer = reckon('hose', { ...read, length: lengthM })
  return answer.ok ? (answer.figures.find((figure) => figure.code === 'regulator') ?? null) : null
}

function pointsOf(read: ReckonRead, units: ReckonUnits): Point[] {
  const isUs = units === 'us'
  const asked = Number(read.length)
  const pressure = (kpa: number) => (isUs ? convert({ value: kpa, from: 'kPa', to: 'psi' }) : kpa)
  return Array.from(
    { length: POINTS },
    (_, at) => (asked * TIMES_ASKED * (at + 1)) / POINTS,
  ).flatMap((lengthM) => {
    const found = regulatorAt(read, lengthM)
    if (!found) return []
    const { value, low, high } = found
    return [
      {
        length: isUs ? convert({ value: lengthM, from: 'm', to: 'ft' }) : lengthM,
        middle: pressure(value),
        range: [pressure(low ?? value), pressure(high ?? value)] as const,
      },
    ]
  })
}

/** What the regulator must show over the length of the hose, with its 9 in 10; a dot at the hose that is asked about. */
export function HosePlot({ read, units }: Readonly<{ read: ReckonRead; units: ReckonUnits }>) {
  const t = useTranslations('reckon.plot')
  const points = useMemo(() => pointsOf(read, units), [read, units])
  const asked = points[POINTS / TIMES_ASKED - 1]
  if (points.length < 2) return null
  const unit = units === 'us' ? { length: 'ft', pressure: 'psi' } : { length: 'm', pressure: 'kPa' }
  return (
    <figure aria-label={t('hose', { unit: unit.pressure })} className="mt-4 min-w-0">
      <figcaption className="type-label">{t('hose', { unit: unit.pressure })}</figcaption>
      <div aria-hidden="true" className="h-[220px] overflow-hidden">
        <ResponsiveContainer
          width="100%"
          height="100%"
          initialDimension={{ width: 328, height: 220 }}
        >
          <ComposedChart
            data={points}
            margin={{ top: 8, right: 16, bottom: 20, left: 0 }}
            accessibilityLayer={false}
          >
            <CartesianGrid vertical={false} stroke="var(--rule)" />
            <XAxis
              dataKey="length"
              type="number"
              domain={[0, 'dataMax']}
              tick={TICK}
              stroke="var(--ink)"
              tickLine={false}
              tickFormatter={(value: number) => formatNumber(value)}
              label={{
                value: t('length', { unit: unit.length }),
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
              domain={['auto', 'auto']}
              tickFormatter={(value: number) => formatNumber(value)}
            />
            <Area
              dataKey="range"
              isAnimationActive={false}
              fill="var(--fan-dark)"
              stroke="none"
              dot={false}
            />
            <Line
              dataKey="middle"
              isAnimationActive={false}
              stroke="var(--ink)"
              strokeWidth={2.5}
              dot={false}
            />
            {asked ? (
              <ReferenceDot
                x={asked.length}
                y={asked.middle}
                r={5}
                fill="var(--ink)"
                stroke="var(--paper)"
                strokeWidth={2}
              />
            ) : null}
          </ComposedChart>
        </ResponsiveContainer>
      </div>
      <p className="type-small text-ink-2">{t('hoseKey')}</p>
    </figure>
  )
}

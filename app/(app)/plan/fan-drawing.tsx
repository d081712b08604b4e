import { useTranslations } from 'next-intl'
import type { PlanFan } from '@/lib/data/plan/plan'
import { formatDay } from '@/lib/format/clock'
import { FANS, type FanSize, fanShapes } from './fan-geometry'
import { percentWords } from './percent-words'

type DrawingProps = Readonly<{ fan: PlanFan; days: readonly number[]; size: FanSize }>

/** A drawing's words near its right edge end there. */
const NEAR_EDGE = 90
const shortDay = (day: number) => formatDay(day, { timeZone: 'UTC' }).replace(/ \w+$/, '')

/** The fan, drawn at the width it is shown at; the sentence above and the table below say the same. */
export function FanDrawing({ fan, days, size }: DrawingProps) {
  const t = useTranslations('plan')
  const frame = FANS[size]
  const shapes = fanShapes(
    {
      left: fan.left,
      nothing: fan.leftNothing,
      atStart: fan.gas.full + fan.gas.openCylinders,
    },
    size,
  )
  const right = frame.width - frame.right
  return (
    <svg
      viewBox={`0 0 ${frame.width} ${frame.height}`}
      className="block h-auto w-full"
      aria-hidden="true"
      fontSize={frame.type}
    >
      {shapes.ticks.map(({ y, value }) => (
        <g key={value}>
          <line x1={frame.left} x2={right} y1={y} y2={y} stroke="var(--rule)" strokeWidth={1} />
          <text x={frame.left - 8} y={y + 5} textAnchor="end" fill="var(--ink-2)">
            {value}
          </text>
        </g>
      ))}
      <path d={shapes.pale} fill="var(--fan-pale)" />
      <path d={shapes.dark} fill="var(--fan-dark)" />
      <path d={shapes.low} fill="none" stroke="var(--ink-3)" strokeWidth={1} />
      <path
        d={shapes.nothing}
        fill="none"
        stroke="var(--heat)"
        strokeWidth={2}
        strokeDasharray="5 4"
      />
      <path d={shapes.middle} fill="none" stroke="var(--ink)" strokeWidth={2.5} />
      <line
        x1={frame.left}
        x2={right}
        y1={shapes.floorY}
        y2={shapes.floorY}
        stroke="var(--ink)"
        strokeWidth={3}
      />
      {fan.comes.map(({ day, quantity, kind }) => {
        const x = shapes.xOf(day)
        const isNearEdge = x > right - NEAR_EDGE
        // The next one's word would stand in this one's: the list below has both in full.
        const isCrowded = fan.comes.some((other) => other.day > day && other.day <= day + 1)
        return (
          <g key={`${day}${kind}${quantity}`}>
            <path
              d={`M${x - 7} ${frame.top - 22}h14l-7 11Z`}
              fill="none"
              stroke="var(--ink)"
              strokeWidth={2}
            />
            <text
              x={isNearEdge ? x - 11 : x + 11}
              y={frame.top - 11}
              textAnchor={isNearEdge ? 'end' : 'start'}
              fontWeight={650}
              fill="var(--ink)"
            >
              {size === 'phone' || isCrowded ? quantity : t(`comes.${kind}`, { quantity })}
            </text>
          </g>
        )
      })}
      {days.map((day, i) => (
        <g key={day} textAnchor="middle">
          {i % frame.every === 0 ? (
            <text x={shapes.xOf(i)} y={shapes.floorY + 20} fill="var(--ink-2)">
              {shortDay(day)}
            </text>
          ) : null}
          {size === 'desk' ? (
            <>
              <text x={shapes.xOf(i)} y={shapes.floorY + 46} fontWeight={650} fill="var(--ink)">
                {percentWords(fan.chance[i] ?? 0)}
              </text>
              <text x={shapes.xOf(i)} y={shapes.floorY + 68} fill="var(--ink-2)">
                {percentWords(fan.chanceNothing[i] ?? 0)}
              </text>
            </>
          ) : null}
        </g>
      ))}
      {size === 'desk' ? (
        <g>
          <text x={0} y={shapes.floorY + 46} fontWeight={650} fill="var(--ink)">
            {t('chanceOut')}
          </text>
          <text x={0} y={shapes.floorY + 68} fill="var(--ink-2)">
            {t('noOrders')}
          </text>
        </g>
      ) : null}
    </svg>
  )
}

import { rangeScale } from '../bar/scale'
import { CONTENTS_CHART, type ContentsPoint, contentsShapes } from './contents-geometry'

type ContentsChartProps = Readonly<{
  /** One a cylinder, oldest first. */
  series: readonly Readonly<{ name: string; points: readonly ContentsPoint[] }>[]
  label: string
  unit: string
  step: number
  formatDay: (ms: number) => string
  nowMs: number
}>

const DAY_MS = 86_400_000
/** Names at the ends of lines keep this clear of the edge; on a phone they stand above their ends. */
const DESK = { widthPx: 640, rightPx: 96, ticks: 4 } as const
const PHONE = { widthPx: 328, rightPx: 12, ticks: 3 } as const

/** Contents as they were read over time, each with its nine in ten. Its table stands below it. */
export function ContentsChart(props: ContentsChartProps) {
  return (
    <figure aria-label={props.label}>
      <div className="hidden desk:block">
        <Drawing {...props} size={DESK} />
      </div>
      <div className="desk:hidden">
        <Drawing {...props} size={PHONE} />
      </div>
    </figure>
  )
}

type DrawingProps = Readonly<
  Omit<ContentsChartProps, 'label'> & { size: typeof DESK | typeof PHONE }
>

function Drawing({ series, unit, step, formatDay, nowMs, size }: DrawingProps) {
  const all = series.flatMap((one) => one.points)
  const from = Math.min(...all.map((one) => one.atMs))
  const last = Math.max(...all.map((one) => one.atMs))
  const isToNow = nowMs - last < 0.25 * (last - from)
  const to = Math.max(from + DAY_MS, isToNow ? nowMs : last)
  const top = Math.max(step, ...all.map((one) => one.high)) * 1.04
  const { heightPx, leftPx } = CONTENTS_CHART
  const { widthPx, rightPx, ticks } = size
  const time = rangeScale({ from, to, widthPx: widthPx - leftPx - rightPx })
  const shapes = contentsShapes({ series: series.map((one) => one.points), time, top })
  const days = Array.from({ length: ticks }, (_, i) => from + ((to - from) * i) / (ticks - 1))
  const steps = Array.from({ length: Math.floor(top / step) + 1 }, (_, i) => i * step)
  return (
    <svg
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      className="max-w-full"
      aria-hidden="true"
      focusable="false"
    >
      {steps.map((value) => (
        <g key={value}>
          <path
            d={`M${leftPx} ${shapes.y(value)}H${widthPx - rightPx}`}
            stroke={value === 0 ? 'var(--ink)' : 'var(--rule)'}
            strokeWidth={value === 0 ? 2 : 1}
          />
          <text
            x={leftPx - 8}
            y={shapes.y(value) + 4}
            textAnchor="end"
            fontSize="12"
            fill="var(--ink)"
          >
            {value === 0 ? `0 ${unit}` : value}
          </text>
        </g>
      ))}
      {days.map((ms, i) => (
        <text
          key={ms}
          x={shapes.x(ms)}
          y={heightPx - 8}
          textAnchor={i === 0 ? 'start' : i === ticks - 1 ? 'end' : 'middle'}
          fontSize="12"
          fill="var(--ink)"
        >
          {formatDay(ms)}
        </text>
      ))}
      {isToNow ? (
        <path d={`M${shapes.x(nowMs)} 8V${shapes.floor}`} stroke="var(--flame)" strokeWidth="1.2" />
      ) : null}
      {shapes.series.map(({ line, points }, place) => (
        <g key={series[place]?.name}>
          <path d={line} fill="none" stroke="var(--edge)" strokeWidth="1.5" />
          {points.map((one) => (
            <g key={one.key} stroke={one.isNamed ? 'var(--heat)' : 'var(--ink)'} strokeWidth="1.5">
              <path
                d={`M${one.x} ${one.low}V${one.high}M${one.x - 3} ${one.low}h6M${one.x - 3} ${one.high}h6`}
              />
              <rect
                x={one.x - 3.5}
                y={one.y - 3.5}
                width="7"
                height="7"
                fill={one.isNamed ? 'var(--heat)' : 'var(--paper)'}
              />
            </g>
          ))}
          <text
            x={(points.at(-1)?.x ?? 0) + (size === PHONE ? -2 : 10)}
            y={size === PHONE ? (points.at(-1)?.low ?? 0) + 16 : (points.at(-1)?.y ?? 0) + 4}
            textAnchor={size === PHONE ? 'end' : 'start'}
            fontSize="12"
            fill="var(--ink)"
          >
            {series[place]?.name}
          </text>
        </g>
      ))}
    </svg>
  )
}

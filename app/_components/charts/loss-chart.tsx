import { rangeScale, xOf } from '../bar/scale'

type ChartPoint = Readonly<{
  atMs: number
  value: number
  isOut: boolean
  /** Limits at that week; one below nought where there is one. */
  high: number
  low?: number
}>

type LossChartProps = Readonly<{
  points: readonly ChartPoint[]
  /** What the upper limit says. */
  limitWords: string
  onset: Readonly<{ atMs: number; words: string }> | null
  formatDay: (ms: number) => string
  label: string
}>

const SIZE = { height: 220, right: 16, top: 26, foot: 26 } as const
const DESK = { width: 640, left: 40, ticks: 4 } as const
const PHONE = { width: 328, left: 18, ticks: 3 } as const

/** A loss week by week beside its limits; the last week ends at now. Its table stands below it. */
export function LossChart(props: LossChartProps) {
  return (
    <figure aria-label={props.label}>
      <div className="hidden desk:block">
        <Drawing {...props} {...DESK} />
      </div>
      <div className="desk:hidden">
        <Drawing {...props} {...PHONE} />
      </div>
    </figure>
  )
}

type DrawingProps = Readonly<
  Omit<LossChartProps, 'label'> & { width: number; left: number; ticks: number }
>

function Drawing({ points, limitWords, onset, formatDay, width, left, ticks }: DrawingProps) {
  const [first, last] = [points[0], points.at(-1)]
  if (!first || !last) return null
  const top = Math.max(...points.flatMap((one) => [one.high * 1.25, one.value]))
  const bottom = Math.min(0, ...points.flatMap((one) => [one.value, (one.low ?? 0) * 1.25]))
  const right = width - SIZE.right
  const time = rangeScale({
    from: first.atMs,
    to: Math.max(last.atMs, first.atMs + 1),
    widthPx: right - left,
  })
  const x = (ms: number) => left + xOf(time, ms)
  const floor = SIZE.height - SIZE.foot
  const y = (value: number) => floor - ((value - bottom) / (top - bottom)) * (floor - SIZE.top)
  const line = (heightOf: (point: ChartPoint) => number) =>
    points.map((one, i) => `${i ? 'L' : 'M'}${x(one.atMs)} ${y(heightOf(one))}`).join('')
  const hasLow = points.some((one) => one.low !== undefined)
  const days = Array.from(
    { length: ticks },
    (_, i) => first.atMs + ((last.atMs - first.atMs) * i) / (ticks - 1),
  )
  return (
    <svg
      width={width}
      height={SIZE.height}
      viewBox={`0 0 ${width} ${SIZE.height}`}
      className="max-w-full"
      aria-hidden="true"
      focusable="false"
    >
      <path d={`M${left} ${y(0)}H${right}`} stroke="var(--ink)" strokeWidth="2" />
      <path
        d={[line((one) => one.high), hasLow ? line((one) => one.low ?? 0) : ''].join('')}
        fill="none"
        stroke="var(--heat)"
        strokeWidth="1.5"
        strokeDasharray="4 3"
      />
      <text x={right - 8} y={y(last.high) - 6} textAnchor="end" fontSize="12" fill="var(--heat)">
        {limitWords}
      </text>
      <text x={left - 8} y={y(0) + 4} textAnchor="end" fontSize="12" fill="var(--ink)">
        0
      </text>
      {days.map((ms, i) => (
        <text
          key={ms}
          x={x(ms)}
          y={SIZE.height - 8}
          textAnchor={i === 0 ? 'start' : i === ticks - 1 ? 'end' : 'middle'}
          fontSize="12"
          fill="var(--ink)"
        >
          {formatDay(ms)}
        </text>
      ))}
      {onset ? (
        <g>
          <path
            d={`M${x(onset.atMs)} ${SIZE.top}V${floor}`}
            stroke="var(--heat)"
            strokeWidth="1.5"
          />
          <text
            x={x(onset.atMs) + 5}
            y={SIZE.top - 6}
            textAnchor={x(onset.atMs) > width / 2 ? 'end' : 'start'}
            fontSize="12"
            fill="var(--heat)"
          >
            {onset.words}
          </text>
        </g>
      ) : null}
      <path d={line((one) => one.value)} fill="none" stroke="var(--ink)" strokeWidth="2.5" />
      {points.map((one) =>
        one.isOut ? (
          <rect
            key={one.atMs}
            x={x(one.atMs) - 3.5}
            y={y(one.value) - 3.5}
            width="7"
            height="7"
            fill="var(--heat)"
          />
        ) : null,
      )}
      <path d={`M${right} 8V${floor}`} stroke="var(--flame)" strokeWidth="1.2" />
    </svg>
  )
}

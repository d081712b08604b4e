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

const SIZE = { width: 640, height: 220, left: 40, right: 16, top: 26, foot: 26 }
const TICKS = 4

/** A loss week by week beside its limits; the last week ends at now. Its table stands below it. */
export function LossChart({ points, limitWords, onset, formatDay, label }: LossChartProps) {
  const [first, last] = [points[0], points.at(-1)]
  if (!first || !last) return null
  const top = Math.max(...points.flatMap((one) => [one.high * 1.25, one.value]))
  const bottom = Math.min(0, ...points.flatMap((one) => [one.value, (one.low ?? 0) * 1.25]))
  const right = SIZE.width - SIZE.right
  const time = rangeScale({
    from: first.atMs,
    to: Math.max(last.atMs, first.atMs + 1),
    widthPx: right - SIZE.left,
  })
  const x = (ms: number) => SIZE.left + xOf(time, ms)
  const floor = SIZE.height - SIZE.foot
  const y = (value: number) => floor - ((value - bottom) / (top - bottom)) * (floor - SIZE.top)
  const line = (heightOf: (point: ChartPoint) => number) =>
    points.map((one, i) => `${i ? 'L' : 'M'}${x(one.atMs)} ${y(heightOf(one))}`).join('')
  const hasLow = points.some((one) => one.low !== undefined)
  const days = Array.from(
    { length: TICKS },
    (_, i) => first.atMs + ((last.atMs - first.atMs) * i) / (TICKS - 1),
  )
  return (
    <figure aria-label={label} className="overflow-x-auto">
      <svg
        width={SIZE.width}
        height={SIZE.height}
        viewBox={`0 0 ${SIZE.width} ${SIZE.height}`}
        className="max-w-full"
        aria-hidden="true"
        focusable="false"
      >
        <path d={`M${SIZE.left} ${y(0)}H${right}`} stroke="var(--ink)" strokeWidth="2" />
        <path
          d={[line((one) => one.high), hasLow ? line((one) => one.low ?? 0) : ''].join('')}
          fill="none"
          stroke="var(--heat)"
          strokeWidth="1.5"
          strokeDasharray="4 3"
        />
        <text x={SIZE.left} y={y(first.high) - 6} fontSize="12" fill="var(--heat)">
          {limitWords}
        </text>
        <text x={SIZE.left - 8} y={y(0) + 4} textAnchor="end" fontSize="12" fill="var(--ink)">
          0
        </text>
        {days.map((ms, i) => (
          <text
            key={ms}
            x={x(ms)}
            y={SIZE.height - 8}
            textAnchor={i === 0 ? 'start' : i === TICKS - 1 ? 'end' : 'middle'}
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
              textAnchor={x(onset.atMs) > SIZE.width / 2 ? 'end' : 'start'}
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
    </figure>
  )
}

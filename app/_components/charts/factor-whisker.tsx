import type { Scale } from '../bar/scale'
import { xOf } from '../bar/scale'

type FactorWhiskerProps = Readonly<{
  scale: Scale
  value: number
  low: number
  high: number
  heightPx?: number
}>

/** An 8 px square on a 2 px whisker; the line at 1.0 runs through every row. */
export function FactorWhisker({ scale, value, low, high, heightPx = 40 }: FactorWhiskerProps) {
  const clamp = (x: number) => Math.min(Math.max(x, 1), scale.widthPx - 1)
  const [from, at, to] = [low, value, high].map((v) => clamp(xOf(scale, v))) as [
    number,
    number,
    number,
  ]
  const middle = heightPx / 2
  return (
    <svg
      className="bar whisker"
      width={scale.widthPx}
      height={heightPx}
      aria-hidden="true"
      focusable="false"
    >
      <path d={`M${xOf(scale, 1)} 0V${heightPx}`} stroke="var(--edge)" strokeWidth="1" />
      <path
        d={`M${from} ${middle}H${to}M${from} ${middle - 4}v8M${to} ${middle - 4}v8`}
        stroke="var(--ink)"
        strokeWidth="2"
        fill="none"
      />
      <rect x={at - 4} y={middle - 4} width="8" height="8" fill="var(--bar)" />
    </svg>
  )
}

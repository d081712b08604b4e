import { formatNumber } from '@/lib/format/numbers'
import type { Scale } from '../bar/scale'
import { ticksOn } from '../bar/scale'

type ValueAxisHeadProps = Readonly<{ scale: Scale; step: number; unit?: string; decimals?: number }>

/** Head of a column of EstimateBars or whiskers: "0 ft³", "400", "800". */
export function ValueAxisHead({ scale, step, unit, decimals = 0 }: ValueAxisHeadProps) {
  const ticks = ticksOn(scale, { first: Math.ceil(scale.start / step) * step, step }).filter(
    (tick) => tick.x <= scale.widthPx - 16,
  )
  return (
    <span className="value-axis" style={{ width: scale.widthPx }} aria-hidden="true">
      {ticks.map((tick) => (
        <span key={tick.value} style={{ left: tick.x }} className={tick.x < 16 ? 'is-first' : ''}>
          {formatNumber(tick.value, decimals)}
          {tick.x < 16 && unit ? ` ${unit}` : ''}
        </span>
      ))}
    </span>
  )
}

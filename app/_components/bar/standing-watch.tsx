import { useId } from 'react'
import type { StandingWatchInput } from './standing-geometry'
import { standingWatchShapes, WATCH_WIDTH_PX } from './standing-geometry'
import { SvgShapes } from './svg-shapes'

/** The watch as a standing bar; the ordered list of rounds beside it says the same in words. */
export function StandingWatch(input: Readonly<StandingWatchInput>) {
  const id = useId()
  return (
    <svg
      className="bar"
      width={WATCH_WIDTH_PX}
      height={input.heightPx}
      aria-hidden="true"
      focusable="false"
    >
      <SvgShapes shapes={standingWatchShapes(input)} id={id} />
    </svg>
  )
}

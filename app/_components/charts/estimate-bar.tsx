import { useId } from 'react'
import { SvgShapes } from '../bar/svg-shapes'
import type { EstimateBarInput } from './estimate-geometry'
import { ESTIMATE_BAR_PX, estimateShapes } from './estimate-geometry'

/** Estimate beside usage. Its numbers stand in the table's own cells, so the drawing is hidden. */
export function EstimateBar(input: Readonly<EstimateBarInput>) {
  const id = useId()
  return (
    <svg
      className="bar"
      width={input.scale.widthPx}
      height={ESTIMATE_BAR_PX.height}
      aria-hidden="true"
      focusable="false"
    >
      <SvgShapes shapes={estimateShapes(input)} id={id} />
    </svg>
  )
}

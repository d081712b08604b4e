import { useId } from 'react'
import type { StandingVesselInput } from './standing-geometry'
import { standingVesselShapes, VESSEL_NECK_PX, VESSEL_WIDTH_PX } from './standing-geometry'
import { SvgShapes } from './svg-shapes'

/** A cylinder on its floor. The svg's box includes the neck and the floor. */
export function StandingVessel({
  sentence,
  ...input
}: Readonly<StandingVesselInput & { sentence?: string }>) {
  const id = useId()
  return (
    <>
      <svg
        className="bar"
        width={VESSEL_WIDTH_PX + 6}
        height={input.heightPx + VESSEL_NECK_PX + 2}
        viewBox={`-3 ${-VESSEL_NECK_PX} ${VESSEL_WIDTH_PX + 6} ${input.heightPx + VESSEL_NECK_PX + 2}`}
        aria-hidden="true"
        focusable="false"
      >
        <SvgShapes shapes={standingVesselShapes(input)} id={id} />
      </svg>
      {sentence ? <span className="sr-only">{sentence}</span> : null}
    </>
  )
}

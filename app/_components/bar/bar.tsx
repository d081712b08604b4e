import { useId } from 'react'
import { lyingShapes } from './lying-geometry'
import type { LyingInput } from './lying-types'
import { SvgShapes } from './svg-shapes'

export const BAR_HEIGHTS_PX = { row: 20, permit: 22, desk: 14, small: 12 } as const
export type BarSize = keyof typeof BAR_HEIGHTS_PX

type BarProps = Readonly<
  Omit<LyingInput, 'heightPx'> & {
    size: BarSize
    /** All of it in one sentence, for those who can't see it; left out where the row already says it. */
    sentence?: string
  }
>

/** One lying bar. It paints outside its box by up to 8 px above and below; rows leave that room. */
export function Bar({ size, sentence, ...input }: BarProps) {
  const id = useId()
  const heightPx = BAR_HEIGHTS_PX[size]
  return (
    <>
      <svg
        className="bar"
        width={input.scale.widthPx}
        height={heightPx}
        aria-hidden="true"
        focusable="false"
      >
        <SvgShapes shapes={lyingShapes({ ...input, heightPx })} id={id} />
      </svg>
      {sentence ? <span className="sr-only">{sentence}</span> : null}
    </>
  )
}

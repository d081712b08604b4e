import type { ReactNode } from 'react'
import { Bar } from './bar'
import type { Scale } from './scale'

type HeldBarsProps = Readonly<{
  scale: Scale
  now: number
  /** The owed watch: burns from torch out. */
  watch: { start?: number; end: number; rounds?: readonly number[]; addedFrom?: number }
  /** Validity goes on burning, without a flame. */
  validity: { start?: number; end: number }
  /** Phone row: drawn beside the upper bar, such as "Joss Adair, to 13:40". */
  upperNote?: ReactNode
  /** Phone row: at the right of the lower bar, such as "Held, to 16:30". */
  lowerNote?: ReactNode
  sentence?: string
  size?: 'row' | 'permit'
}>

/** A held permit: the owed watch above, validity below, on one axis. */
export function HeldBars({
  scale,
  now,
  watch,
  validity,
  upperNote,
  lowerNote,
  sentence,
  size = 'row',
}: HeldBarsProps) {
  const watchEndPx = (watch.end - scale.start) * scale.pxPerUnit
  return (
    <div className="held-bars">
      <div className="held-bars-upper">
        <Bar bar={{ state: 'running', ...watch }} scale={scale} now={now} size={size} />
        {upperNote ? (
          <span className="held-bars-note" style={{ left: watchEndPx + 12 }}>
            {upperNote}
          </span>
        ) : null}
      </div>
      <div className="held-bars-lower">
        <Bar bar={{ state: 'held', ...validity }} scale={scale} now={now} size="small" />
        {lowerNote ? <span className="held-bars-end">{lowerNote}</span> : null}
      </div>
      {sentence ? <span className="sr-only">{sentence}</span> : null}
    </div>
  )
}

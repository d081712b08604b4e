import { CrossSquare } from '../marks/icons'

export interface SlabFaceProps {
  readonly title: string
  readonly lines: readonly string[]
  readonly isSecond?: boolean
}

/** What stands on a danger slab: white square with the cross, the word, what it does. */
export function SlabFace({ title, lines, isSecond = false }: SlabFaceProps) {
  return (
    <>
      <CrossSquare sizePx={isSecond ? 42 : 34} />
      <span>
        <b>{title}</b>
        {lines.map((line) => (
          <span key={line}>{line}</span>
        ))}
      </span>
    </>
  )
}

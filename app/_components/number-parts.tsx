import type { DurationPart } from '@/lib/format/duration'

export type NumberSize = 'watch' | 'permit' | 'row' | 'total' | 'desk'

type NumberPartsProps = Readonly<{
  parts: readonly (DurationPart | { readonly value: string; readonly unit?: string })[]
  size?: NumberSize
  before?: string | undefined
  after?: string | undefined
}>

/** Figures big, units small: "3 h 02", "about 52 min", "86 ft³". */
export function NumberParts({ parts, size = 'row', before, after }: NumberPartsProps) {
  return (
    <span className={`number number-${size}`}>
      {before ? <span className="number-unit">{before} </span> : null}
      {parts.map((part, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the parts of one number, always in this order
        <span key={index}>
          {index > 0 ? ' ' : ''}
          <b>{part.value}</b>
          {part.unit && size !== 'watch' ? <span className="number-unit"> {part.unit}</span> : null}
        </span>
      ))}
      {after ? <span className="number-unit"> {after}</span> : null}
    </span>
  )
}

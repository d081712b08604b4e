/** Real quantiles of an end that is not certain, on the axis's own unit. */
export interface UncertainEnd {
  readonly p05: number
  readonly p275: number
  readonly p50: number
  readonly p725: number
  readonly p95: number
  /** At 5, 15 … 95 %: shown instead on a chart a person can study. */
  readonly tenths?: readonly number[]
}

export interface Tooth {
  readonly value: number
  readonly isMiddle: boolean
}

export interface TeethSet {
  readonly solidTo: number
  readonly isSquare: boolean
  readonly hasWedge: boolean
  readonly marks: readonly Tooth[]
}

const SQUARE_BELOW_PX = 6
const LEAST_APART_PX = 3
const TENTHS_ABOVE_PX = 60

interface TeethInput {
  readonly end: UncertainEnd
  readonly px: (value: number) => number
  readonly isStudied: boolean
}

/**
 * Which teeth an uncertain end shows. Under 6 px it is square, at the number printed; teeth that
 * would stand closer than 3 px leave only the middle and the high one.
 */
export function teeth({ end, px, isStudied }: TeethInput): TeethSet {
  const widthPx = Math.abs(px(end.p95) - px(end.p05))
  if (widthPx < SQUARE_BELOW_PX)
    return { solidTo: end.p50, isSquare: true, hasWedge: false, marks: [] }
  if (isStudied && widthPx > TENTHS_ABOVE_PX && end.tenths?.length === 10) {
    // The first of the ten is the end of the ink itself.
    const marks = end.tenths.slice(1).map((value) => ({ value, isMiddle: false }))
    return { solidTo: end.p05, isSquare: false, hasWedge: true, marks }
  }
  const all = [
    { value: end.p275, isMiddle: false },
    { value: end.p50, isMiddle: true },
    { value: end.p725, isMiddle: false },
    { value: end.p95, isMiddle: false },
  ]
  const places = [end.p05, ...all.map((mark) => mark.value)].map(px)
  const isCrowded = places.some(
    (x, index) => index > 0 && Math.abs(x - (places[index - 1] ?? x)) < LEAST_APART_PX,
  )
  const marks = isCrowded ? all.filter((mark) => mark.isMiddle || mark.value === end.p95) : all
  return { solidTo: end.p05, isSquare: false, hasWedge: false, marks }
}

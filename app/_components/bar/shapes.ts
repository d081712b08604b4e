/** What the geometry functions return: plain shapes in px, which svg-shapes.tsx draws. */
export type Paint = 'bar' | 'ink' | 'spent' | 'flame' | 'heat' | 'edge'

/** Which part of the bar a shape is; tests and the drawing's class names use it. */
export type Part =
  | 'past'
  | 'flame'
  | 'ink'
  | 'slice'
  | 'wall'
  | 'added'
  | 'added-ink'
  | 'tooth'
  | 'middle'
  | 'wedge'
  | 'short'
  | 'over'
  | 'outline'
  | 'torn'
  | 'floor'
  | 'cap'
  | 'round-done'
  | 'neck'
  | 'mark'
  | 'band'

export interface RectShape {
  readonly kind: 'rect'
  readonly part: Part
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
  readonly paint: Paint
}

/** An outline whose outer edge is the given box; the stroke lies inside it. */
export interface FrameShape extends Omit<RectShape, 'kind'> {
  readonly kind: 'frame'
  readonly strokePx: number
  readonly dash?: readonly [number, number]
  readonly isHatched?: boolean
}

export interface PolygonShape {
  readonly kind: 'polygon'
  readonly part: Part
  readonly points: readonly (readonly [number, number])[]
  readonly paint: Paint
  /** Drawn as a line of this width instead of a fill. */
  readonly strokePx?: number
  readonly isOpen?: boolean
}

export interface TextShape {
  readonly kind: 'text'
  readonly part: Part
  readonly x: number
  readonly y: number
  readonly text: string
  readonly paint: Paint
}

export type Shape = RectShape | FrameShape | PolygonShape | TextShape

/** A filled rectangle from one x to another; nothing when it would have no width. */
export function span(
  part: Part,
  paint: Paint,
  box: Readonly<{ from: number; to: number; y: number; height: number }>,
): Shape[] {
  if (box.to - box.from <= 0 || box.height <= 0) return []
  return [
    {
      kind: 'rect',
      part,
      paint,
      x: box.from,
      y: box.y,
      width: box.to - box.from,
      height: box.height,
    },
  ]
}

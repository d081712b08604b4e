/** A section of two flanges and a web: name, depth, flange width and thickness, web thickness (in), area (in²). */
export type FlangedRow = readonly [
  name: string,
  depthIn: number,
  flangeWidthIn: number,
  flangeThicknessIn: number,
  webThicknessIn: number,
  areaIn2: number,
]

/** Nominal weight, lb/ft, that the name of a W, S or C shape ends in: 50 of `W12x50`. */
export function poundsPerFootOf(name: string): number {
  return Number(name.slice(name.lastIndexOf('x') + 1))
}

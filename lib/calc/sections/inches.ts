/** Inches of `3-1/2`, `9/16` or `0.25`; NaN for anything else. */
export function inchesOf(text: string): number {
  const match = /^(?:(\d+(?:\.\d+)?)|(?:(\d+)-)?(\d+)\/(\d+))$/.exec(text)
  if (!match) return Number.NaN
  const [, decimal, whole = '0', above, below] = match
  return decimal === undefined ? Number(whole) + Number(above) / Number(below) : Number(decimal)
}

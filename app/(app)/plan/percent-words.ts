const HUNDRED = 100

/** A chance as people read it; what is less than one in a hundred says so. */
export function percentWords(chance: number): string {
  const percent = Math.round(chance * HUNDRED)
  if (percent === 0) return chance > 0 ? '< 1 %' : '0 %'
  return `${percent} %`
}

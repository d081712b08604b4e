/** The time by which so many in a hundred were done. */
export function percentile(timesMs: readonly number[], percent: number): number {
  const sorted = timesMs.toSorted((a, b) => a - b)
  const at = Math.min(sorted.length - 1, Math.ceil((percent / 100) * sorted.length) - 1)
  return sorted[Math.max(0, at)] ?? Number.NaN
}

export type Pair = Readonly<{ fullMs: readonly number[]; emptyMs: readonly number[] }>

/**
 * Two requests in turn, each going first every other time, so that whatever else the machine does
 * falls on both alike.
 */
export async function interleaved(
  times: number,
  full: () => Promise<number>,
  empty: () => Promise<number>,
): Promise<Pair> {
  const fullMs: number[] = []
  const emptyMs: number[] = []
  const one = async () => fullMs.push(await full())
  const other = async () => emptyMs.push(await empty())
  for (let turn = 0; turn < times; turn += 1) {
    for (const act of turn % 2 === 0 ? [one, other] : [other, one]) await act()
  }
  return { fullMs, emptyMs }
}

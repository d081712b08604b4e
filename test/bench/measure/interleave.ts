/** The time by which so many in a hundred were done. */
export function percentile(timesMs: readonly number[], percent: number): number {
  const sorted = timesMs.toSorted((a, b) => a - b)
  const at = Math.min(sorted.length - 1, Math.ceil((percent / 100) * sorted.length) - 1)
  return sorted[Math.max(0, at)] ?? Number.NaN
}

/**
 * Acts in turn, another one first each time, so that whatever else the machine does falls on all
 * alike. Each tells how long it took.
 */
export async function inTurn(
  times: number,
  acts: readonly (() => Promise<number>)[],
): Promise<readonly (readonly number[])[]> {
  const took = acts.map((): number[] => [])
  for (let turn = 0; turn < times; turn += 1)
    for (let nth = 0; nth < acts.length; nth += 1) {
      const which = (turn + nth) % acts.length
      took[which]?.push((await acts[which]?.()) ?? Number.NaN)
    }
  return took
}

export type Pair = Readonly<{ fullMs: readonly number[]; emptyMs: readonly number[] }>

/** Two requests in turn. */
export async function interleaved(
  times: number,
  full: () => Promise<number>,
  empty: () => Promise<number>,
): Promise<Pair> {
  const [fullMs = [], emptyMs = []] = await inTurn(times, [full, empty])
  return { fullMs, emptyMs }
}

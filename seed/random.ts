import seedrandom from 'seedrandom'

/** One stream of chance. The same seed gives the same draws on every machine. */
export type Chance = Readonly<{
  /** Uniform from 0 up to, not including, 1. */
  unit: () => number
  between: (low: number, high: number) => number
  /** Whole number, both ends included. */
  whole: (low: number, high: number) => number
  normal: (mean: number, standardDeviation: number) => number
  /** A factor around 1, never negative; `spread` is the standard deviation of its logarithm. */
  factor: (spread: number) => number
  pick: <T>(choices: readonly T[]) => T
  happens: (probability: number) => boolean
  /** A stream of its own, so that one part's draws do not move another's. */
  branch: (name: string) => Chance
}>

/** Opens the stream of a seed. */
export function openChance(seed: string): Chance {
  const unit = seedrandom(seed)
  const normal = (mean: number, standardDeviation: number) =>
    mean + standardDeviation * Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit())
  return {
    unit,
    between: (low, high) => low + (high - low) * unit(),
    whole: (low, high) => low + Math.floor((high - low + 1) * unit()),
    normal,
    factor: (spread) => Math.exp(normal(0, spread)),
    pick: (choices) => {
      const choice = choices[Math.floor(choices.length * unit())]
      if (choice === undefined) throw new Error('nothing to pick from')
      return choice
    },
    happens: (probability) => unit() < probability,
    branch: (name) => openChance(`${seed}/${name}`),
  }
}

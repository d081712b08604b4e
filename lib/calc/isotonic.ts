import { CalcError } from './errors'

export type WeightedValue = { value: number; weight: number }

type Block = { value: number; weight: number; size: number }

/**
 * Nearest never-rising values, by weighted least squares (pool adjacent violators).
 *
 * @param readings values in order of time with weights > 0 (1/variance)
 * @returns fitted values, as many; equal to the readings where they already fall
 * @throws {CalcError} OUT_OF_RANGE for a weight that is not finite and > 0
 * @source Barlow, Bartholomew, Bremner & Brunk 1972 (from memory)
 * @example fitFalling([{ value: 9, weight: 1 }, { value: 10, weight: 1 }]) // [9.5, 9.5]
 */
export function fitFalling(readings: readonly WeightedValue[]): number[] {
  const blocks: Block[] = []
  for (const { value, weight } of readings) {
    if (!(weight > 0 && Number.isFinite(weight)))
      throw new CalcError('OUT_OF_RANGE', 'weight', weight, { above: 0 })
    blocks.push({ value, weight, size: 1 })
    mergeRising(blocks)
  }
  return blocks.flatMap((block) => Array.from({ length: block.size }, () => block.value))
}

/** Merges the last blocks while a later one is higher. */
function mergeRising(blocks: Block[]): void {
  for (;;) {
    const last = blocks.at(-1)
    const before = blocks.at(-2)
    if (!last || !before || last.value <= before.value) return
    const weight = before.weight + last.weight
    const value = (before.value * before.weight + last.value * last.weight) / weight
    blocks.splice(-2, 2, { value, weight, size: before.size + last.size })
  }
}

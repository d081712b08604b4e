import type { Refusal, Refused } from './refusal'

export type Bounds = { min?: number; max?: number; above?: number; unit?: string }

/** A result, or the reasons why there is none. */
export type Outcome<T> = ({ ok: true } & T) | Refused

/**
 * Every number that is not finite or lies outside its bounds, as refusals.
 *
 * @param values by field name: the value (undefined is not asked) and its bounds, `above` exclusive
 * @returns refusals in the order of the fields; empty when all may pass
 */
export function numberRefusals(
  values: Readonly<Record<string, readonly [value: number | undefined, bounds: Bounds]>>,
): Refusal[] {
  return Object.entries(values).flatMap(([field, [value, limit]]): Refusal[] => {
    if (value === undefined) return []
    const { min = -Infinity, max = Infinity, above = -Infinity } = limit
    if (Number.isFinite(value) && value >= min && value <= max && value > above) return []
    return [{ code: 'OUT_OF_RANGE', field, value: Number.isFinite(value) ? value : null, limit }]
  })
}

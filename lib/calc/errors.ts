/** Codes of mistakes in calling the library. What a user can meet is a `Refusal`, not an error. */
export type CalcErrorCode = 'OUT_OF_RANGE' | 'NOT_FINITE' | 'UNKNOWN' | 'WRONG_ORDER'

/** Thrown for a bug in the caller: the field, what it held, and the bound it broke. */
export class CalcError extends Error {
  override readonly name = 'CalcError'

  constructor(
    readonly code: CalcErrorCode,
    readonly field: string,
    readonly value: unknown,
    readonly limit: unknown = null,
  ) {
    super(`${code}: ${field} = ${String(value)}`)
  }
}

/**
 * Lets through only a finite number inside the bounds.
 *
 * @param field name of the argument, repeated in the error
 * @param value scalar to check
 * @param bounds min and max, inclusive; `above` is an exclusive minimum
 * @returns the value
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 */
export function requireNumber(
  field: string,
  value: number,
  bounds: { min?: number; max?: number; above?: number } = {},
): number {
  if (!Number.isFinite(value)) throw new CalcError('NOT_FINITE', field, value)
  const { min = -Infinity, max = Infinity, above = -Infinity } = bounds
  if (value < min || value > max || value <= above)
    throw new CalcError('OUT_OF_RANGE', field, value, bounds)
  return value
}

import type { MistypedHow, TypedAs } from './hypotheses-types'
import { convert, type Unit } from './units'

/** Units that a value of each unit may have been read in. */
const MISTAKEN_FOR: Readonly<Record<TypedAs['unit'], readonly Unit[]>> = {
  psi: ['bar', 'kPa'],
  bar: ['psi', 'kPa'],
  kPa: ['psi', 'bar'],
  lb: ['kg'],
  kg: ['lb'],
}

/**
 * What a typed value may have been meant to be.
 *
 * @param typed the value as the person typed it, >= 0, in the unit of the box
 * @returns each way with the value that was meant, in the same unit; the typed value itself is not among them
 * @source ways of mistyping: common practice, no source
 * @example meantValues({ value: 2140, unit: 'psi' }) // digits_swapped 1240, digit_lost 21400, …
 */
export function meantValues({
  value,
  unit,
}: TypedAs): { how: Exclude<MistypedHow, 'other_gauge'>; value: number }[] {
  const whole = Math.round(value)
  if (whole <= 0) return []
  const digits = String(whole)
  const swapped = Array.from(digits.slice(1), (digit, i) =>
    Number(`${digits.slice(0, i)}${digit}${digits[i]}${digits.slice(i + 2)}`),
  )
  const meant = [
    ...swapped.map((one) => ({ how: 'digits_swapped' as const, value: one })),
    { how: 'digit_lost' as const, value: whole * 10 },
    { how: 'digit_added' as const, value: Math.floor(whole / 10) },
    ...MISTAKEN_FOR[unit].map((from) => ({
      how: 'unit' as const,
      value: convert({ value, from, to: unit }),
    })),
  ]
  return meant.filter((one) => one.value !== whole)
}

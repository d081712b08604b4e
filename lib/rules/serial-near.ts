/** Letters that are read as a digit on a worn shoulder. Common practice, no source. */
const LOOKS_LIKE: Readonly<Record<string, string>> = {
  O: '0',
  Q: '0',
  I: '1',
  L: '1',
  Z: '2',
  S: '5',
  B: '8',
  G: '6',
}
/** Digits that are taken for each other. Common practice, no source. */
const DIGIT_PAIRS: readonly (readonly [string, string])[] = [
  ['1', '7'],
  ['3', '8'],
  ['5', '6'],
  ['0', '8'],
  ['6', '8'],
  ['4', '9'],
]
const ALPHABET = '0123456789ACDEFHJKMNPRTUVWXY'

/** A serial as a tired eye reads it. */
export function foldSerial(serial: string): string {
  return [...serial.toUpperCase()]
    .filter((letter) => /[A-Z0-9]/.test(letter))
    .map((letter) => LOOKS_LIKE[letter] ?? letter)
    .join('')
}

const swapped = (key: string) =>
  [...key].slice(1).map((_, i) => key.slice(0, i) + key[i + 1] + key[i] + key.slice(i + 2))
const dropped = (key: string) => [...key].map((_, i) => key.slice(0, i) + key.slice(i + 1))
const added = (key: string) =>
  Array.from({ length: key.length + 1 }, (_, i) =>
    [...ALPHABET].map((letter) => key.slice(0, i) + letter + key.slice(i)),
  ).flat()
const lookalike = (key: string) =>
  [...key].flatMap((letter, i) =>
    DIGIT_PAIRS.flatMap((pair) => {
      const at = pair.indexOf(letter)
      return at < 0 ? [] : [key.slice(0, i) + pair[1 - at] + key.slice(i + 1)]
    }),
  )

export type NearMiss = 'misread' | 'swapped' | 'one_missing' | 'one_more' | 'lookalike'

const LEAST_LENGTH = 4 // with fewer characters everything is near everything

/**
 * Folded serials that somebody may have meant who typed this one: a letter taken for a digit, two
 * changed places, one left out or too many, a digit taken for another. Serials in a row, which
 * differ by their last digit, are not near each other unless the digits look alike.
 */
export function nearKeys(serial: string): ReadonlyMap<string, NearMiss> {
  const key = foldSerial(serial)
  if (key.length < LEAST_LENGTH) return new Map([[key, 'misread']])
  const found = new Map<string, NearMiss>()
  const put = (kind: NearMiss) => (near: string) => {
    if (!found.has(near)) found.set(near, kind)
  }
  put('misread')(key)
  swapped(key).forEach(put('swapped'))
  lookalike(key).forEach(put('lookalike'))
  dropped(key).forEach(put('one_more'))
  added(key).forEach(put('one_missing'))
  return found
}

/** How a serial is nearly another; null when it is the same one or plainly another. */
export function nearMiss(typed: string, known: string): NearMiss | null {
  if (typed === known) return null
  return nearKeys(typed).get(foldSerial(known)) ?? null
}

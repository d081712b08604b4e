const MOST_LENGTH = 40
const IS_SERIAL = /^[A-Z0-9][A-Z0-9 ./-]*$/
/** What a scanner puts between the fields of a GS1 symbol. */
const GROUP = '\u001d'

/**
 * The serial in what a camera or a scanner read: our own label and a maker's plain bar code hold
 * nothing else; a GS1 symbol holds it behind 8004 (an asset of its own), 8003 (a returnable asset:
 * a type of fourteen digits, then the serial) or 21 (a serial).
 *
 * @returns the serial in capitals; null when there is none
 * @source GS1 General Specifications, application identifiers 21, 8003 and 8004: from memory
 */
export function serialOfCode(read: string): string | null {
  const text = read.trim().toUpperCase()
  const serial = (gs1Serial(text) ?? text).trim()
  return serial.length <= MOST_LENGTH && IS_SERIAL.test(serial) ? serial : null
}

const WRITTEN_OUT = [/\(8004\)([^(]+)/, /\(8003\)\d{14}([^(]+)/, /\(21\)([^(]+)/] as const
const IN_A_ROW = [/^8004(.+)$/, /^8003\d{14}(.+)$/, /^21(.+)$/] as const

function gs1Serial(text: string): string | null {
  for (const pattern of WRITTEN_OUT) {
    const found = pattern.exec(text)?.[1]
    if (found) return found
  }
  // Without brackets only a symbol says that it is GS1, by its prefix.
  const symbol =
    /^\](?:C1|E0|D2|Q3)(.*)$/s.exec(text)?.[1] ?? (text.startsWith(GROUP) ? text.slice(1) : null)
  for (const field of symbol?.split(GROUP) ?? []) {
    for (const pattern of IN_A_ROW) {
      const found = pattern.exec(field)?.[1]
      if (found) return found
    }
  }
  return null
}

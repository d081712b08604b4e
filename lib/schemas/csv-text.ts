import Papa from 'papaparse'

/** How the bytes of a file are letters: told by their mark, else by whether they are UTF-8. */
export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252'

export function encodingOf(bytes: Uint8Array): Encoding {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le'
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be'
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    return 'utf-8'
  } catch {
    return 'windows-1252' // what spreadsheets write where they do not write UTF-8
  }
}

const LINE_END = 0x0a

/** Whole lines as letters: a line that is not UTF-8 is taken for windows-1252. */
function lettersOf(lines: Uint8Array): string {
  if (encodingOf(lines) === 'utf-8') return new TextDecoder().decode(lines)
  const texts: string[] = []
  for (let from = 0; from < lines.length; ) {
    const end = lines.indexOf(LINE_END, from)
    const line = lines.subarray(from, end < 0 ? lines.length : end + 1)
    const encoding = encodingOf(line) === 'utf-8' ? 'utf-8' : 'windows-1252'
    texts.push(new TextDecoder(encoding).decode(line))
    from += line.length
  }
  return texts.join('')
}

const joined = (one: Uint8Array, other: Uint8Array) => {
  const both = new Uint8Array(one.length + other.length)
  both.set(one)
  both.set(other, one.length)
  return both
}

export type TextReader = Readonly<{ push: (bytes: Uint8Array) => string; end: () => string }>

/**
 * Text of a file that comes in pieces, cut anywhere. A file of mixed encodings, pasted together from
 * others, is read line by line.
 */
export function textReader(): TextReader {
  let held: Uint8Array = new Uint8Array()
  let wide: TextDecoder | null = null
  let isBegun = false
  const begin = () => {
    const encoding = encodingOf(held.subarray(0, 2))
    if (encoding.startsWith('utf-16')) wide = new TextDecoder(encoding)
    isBegun = true
  }
  return {
    push: (bytes) => {
      held = held.length > 0 ? joined(held, bytes) : bytes
      if (!isBegun && held.length < 2) return ''
      if (!isBegun) begin()
      const cut = wide ? held.length : held.lastIndexOf(LINE_END) + 1
      const whole = held.subarray(0, cut)
      held = held.slice(cut)
      return wide ? wide.decode(whole, { stream: true }) : lettersOf(whole)
    },
    end: () => (wide ? wide.decode() : lettersOf(held)),
  }
}

/** Text of a file that is there whole. */
export function textOf(bytes: Uint8Array): string {
  const reader = textReader()
  return reader.push(bytes) + reader.end()
}

/** The more telling first: a comma is in many a cell. */
const DELIMITERS = ['\t', ';', '|', ',']

/** The delimiter of a table, by its first line alone: what follows may be messy. */
export function delimiterOf(text: string): string {
  const [head = ''] = text.split(/\r?\n/, 1)
  const { meta } = Papa.parse(head, { preview: 1, delimitersToGuess: DELIMITERS })
  return meta.delimiter
}

const NO_QUOTES = '\0'

/**
 * Rows of a text that is there whole. Where its quotes do not pair, they are inch signs and dittos: every
 * sign is then a letter of its cell.
 *
 * @source RFC 4180; other delimiters as spreadsheets write them
 */
export function csvRows(text: string, delimiter = delimiterOf(text)): string[][] {
  const lines = text.replaceAll(/\r\n?/g, '\n')
  const quoted = Papa.parse<string[]>(lines, { delimiter, newline: '\n' })
  const isQuoted = quoted.errors.every(({ type }) => type !== 'Quotes')
  const { data } = isQuoted
    ? quoted
    : Papa.parse<string[]>(lines, { delimiter, newline: '\n', quoteChar: NO_QUOTES })
  const last = data.at(-1)
  return last?.length === 1 && last[0] === '' ? data.slice(0, -1) : data
}

/** A cell that a spreadsheet reads as text, never as a formula. */
export function csvCell(value: string | number | null): string {
  if (value === null) return ''
  if (typeof value === 'number') return String(value)
  return `"${value.replaceAll('"', '""').replace(/^[=+\-@\t\r]/, "'$&")}"`
}

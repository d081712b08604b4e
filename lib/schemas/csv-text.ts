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

/**
 * Text of a file. A file of mixed encodings, pasted together from others, is read line by line: a
 * line that is not UTF-8 is taken for windows-1252.
 */
export function textOf(bytes: Uint8Array): string {
  const encoding = encodingOf(bytes)
  if (encoding !== 'windows-1252') return new TextDecoder(encoding).decode(bytes)
  const lines: string[] = []
  let from = 0
  for (let at = 0; at <= bytes.length; at += 1) {
    if (at < bytes.length && bytes[at] !== 0x0a) continue
    const line = bytes.subarray(from, at)
    lines.push(
      new TextDecoder(encodingOf(line) === 'utf-8' ? 'utf-8' : 'windows-1252').decode(line),
    )
    from = at + 1
  }
  return lines.join('\n')
}

const DELIMITERS = [',', ';', '\t', '|'] as const

/** The delimiter that the first line has most of, outside quotes. */
export function delimiterOf(text: string): string {
  const head = text.slice(0, text.search(/\r?\n|$/)).replaceAll(/"[^"]*"/g, '')
  const counts = DELIMITERS.map((delimiter) => head.split(delimiter).length)
  return DELIMITERS[counts.indexOf(Math.max(...counts))] ?? ','
}

/**
 * Rows of cells, quotes and line breaks inside quotes included.
 *
 * @source RFC 4180; other delimiters as spreadsheets write them
 */
export function rowsOfCsv(text: string, delimiter = delimiterOf(text)): string[][] {
  const rows: string[][] = []
  let row: string[] = []
  let cell = ''
  let isQuoted = false
  const endCell = () => {
    row.push(cell)
    cell = ''
  }
  const endRow = () => {
    endCell()
    rows.push(row)
    row = []
  }
  for (let at = 0; at < text.length; at += 1) {
    const letter = text[at]
    if (isQuoted) {
      if (letter !== '"') cell += letter
      else if (text[at + 1] === '"') {
        cell += '"'
        at += 1
      } else isQuoted = false
    } else if (letter === '"' && cell.trim() === '') {
      isQuoted = true
      cell = ''
    } else if (letter === delimiter) endCell()
    else if (letter === '\n') endRow()
    else if (letter !== '\r' || text[at + 1] !== '\n') cell += letter
  }
  if (cell !== '' || row.length > 0) endRow()
  return rows
}

/** A cell that a spreadsheet reads as text, never as a formula. */
export function csvCell(value: string | number | null): string {
  if (value === null) return ''
  if (typeof value === 'number') return String(value)
  return `"${value.replaceAll('"', '""').replace(/^[=+\-@\t\r]/, "'$&")}"`
}

import { Unzip, type UnzipFile, UnzipInflate } from 'fflate'

/** Excel's own limits are larger; a file past these is not a list of cylinders. */
const MOST_ROWS = 200_000
const MOST_UNPACKED_BYTES = 400_000_000
/** Of one row or one string; what goes on for longer is no list either. */
const LONGEST_ELEMENT = 4_000_000

const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
}
const unescaped = (xml: string) =>
  xml.replaceAll(/&(?:#(\d+)|#x([0-9a-f]+)|(\w+));/gi, (all, decimal, hex, name) => {
    if (decimal) return String.fromCodePoint(Number(decimal))
    if (hex) return String.fromCodePoint(Number.parseInt(hex, 16))
    return ENTITIES[name] ?? all
  })

const textsIn = (xml: string) =>
  [...xml.matchAll(/<t(?:\s[^>]*)?>([\s\S]*?)<\/t>/g)]
    .map((found) => unescaped(found[1] ?? ''))
    .join('')

/** "AB" is column 27, counted from 0. */
const columnOf = (letters: string) =>
  [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1

export const isXlsx = (bytes: Uint8Array) => bytes[0] === 0x50 && bytes[1] === 0x4b

export type Bytes = AsyncIterable<Uint8Array>

/** Files of an archive that comes in pieces: the names of all of them, the text of the wanted one. */
async function* textInZip(
  bytes: Bytes,
  isWanted: (name: string) => boolean,
  names?: (name: string) => void,
): AsyncGenerator<string> {
  const letters = new TextDecoder()
  let parts: string[] = []
  let unpacked = 0
  const unzip = new Unzip((file: UnzipFile) => {
    names?.(file.name)
    if (!isWanted(file.name)) return
    file.ondata = (error, data, isLast) => {
      if (error) throw error
      unpacked += data.length
      if (unpacked > MOST_UNPACKED_BYTES) throw new Error('this workbook unpacks to too much')
      parts.push(letters.decode(data, { stream: !isLast }))
    }
    file.start()
  })
  unzip.register(UnzipInflate)
  for await (const piece of bytes) {
    unzip.push(piece)
    yield* parts
    parts = []
  }
  unzip.push(new Uint8Array(), true)
  yield* parts
}

/** Each whole element of one kind, its text as matched; what is not whole yet waits for the next piece. */
async function* elementsOf(pieces: AsyncIterable<string>, pattern: RegExp) {
  let held = ''
  for await (const piece of pieces) {
    held += piece
    let end = 0
    for (const found of held.matchAll(pattern)) {
      end = found.index + found[0].length
      yield found
    }
    held = held.slice(end)
    if (held.length > LONGEST_ELEMENT) throw new Error('a row of this workbook has no end')
  }
}

const SHEET = /^xl\/worksheets\/sheet\d+\.xml$/
const STRING = /<si>([\s\S]*?)<\/si>/g
const ROW = /<row\b[^>]*?(?:\/>|>([\s\S]*?)<\/row>)/g

/**
 * Rows of the first sheet of a workbook, one at a time, as text; a date comes as the number of its
 * day, which is how a workbook keeps it. The file is opened twice: its shared strings may stand after
 * the sheet that uses them.
 *
 * @source ECMA-376 part 1, §18.3 worksheets and §18.4 shared strings
 * @throws {Error} for a file that is no workbook, or is larger unpacked than a list can be
 */
export async function* rowsOfXlsx(open: () => Bytes): AsyncGenerator<string[]> {
  const sheets: string[] = []
  const shared: string[] = []
  const strings = textInZip(
    open(),
    (name) => name === 'xl/sharedStrings.xml',
    (name) => {
      if (SHEET.test(name)) sheets.push(name)
    },
  )
  for await (const [, text = ''] of elementsOf(strings, STRING)) shared.push(textsIn(text))
  const [first] = sheets.sort((a, b) => a.length - b.length || (a < b ? -1 : 1))
  if (!first) throw new Error('this workbook has no sheet')
  let rows = 0
  const sheet = textInZip(open(), (name) => name === first)
  for await (const [, body = ''] of elementsOf(sheet, ROW)) {
    rows += 1
    if (rows > MOST_ROWS) throw new Error('this sheet has too many rows')
    yield cellsOf(body, shared)
  }
}

function cellsOf(body: string, shared: readonly string[]): string[] {
  const row: string[] = []
  for (const [, attributes = '', cell = ''] of body.matchAll(
    /<c\b([^>]*?)(?:\/>|>([\s\S]*?)<\/c>)/g,
  )) {
    const at = columnOf(/\br="([A-Z]+)/.exec(attributes)?.[1] ?? '')
    const column = at >= 0 ? at : row.length
    while (row.length < column) row.push('')
    const value = unescaped(/<v(?:\s[^>]*)?>([\s\S]*?)<\/v>/.exec(cell)?.[1] ?? '')
    const type = /\bt="(\w+)"/.exec(attributes)?.[1]
    row[column] =
      type === 's' ? (shared[Number(value)] ?? '') : type === 'inlineStr' ? textsIn(cell) : value
  }
  return row
}

import { strFromU8, unzipSync } from 'fflate'

/** Excel's own limits are larger; a file past these is not a list of cylinders. */
const MOST_ROWS = 200_000
const MOST_UNPACKED_BYTES = 400_000_000

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

/**
 * Rows of the first sheet of a workbook, as text; a date comes as the number of its day, which is
 * how a workbook keeps it.
 *
 * @source ECMA-376 part 1, §18.3 worksheets and §18.4 shared strings
 * @throws {Error} for a file that is no workbook, or is larger unpacked than a list can be
 */
export function rowsOfXlsx(bytes: Uint8Array): string[][] {
  let unpacked = 0
  const files = unzipSync(bytes, {
    filter: ({ name, originalSize }) => {
      const isWanted = /^xl\/(?:sharedStrings\.xml|worksheets\/sheet\d+\.xml)$/.test(name)
      unpacked += isWanted ? originalSize : 0
      if (unpacked > MOST_UNPACKED_BYTES) throw new Error('this workbook unpacks to too much')
      return isWanted
    },
  })
  const first = Object.keys(files)
    .filter((name) => name.startsWith('xl/worksheets/'))
    .sort((a, b) => a.length - b.length || (a < b ? -1 : 1))[0]
  const sheet = first ? files[first] : undefined
  if (!sheet) throw new Error('this workbook has no sheet')
  const strings = files['xl/sharedStrings.xml']
  const shared = strings
    ? [...strFromU8(strings).matchAll(/<si>([\s\S]*?)<\/si>/g)].map((found) =>
        textsIn(found[1] ?? ''),
      )
    : []
  return rowsOfSheet(strFromU8(sheet), shared)
}

function rowsOfSheet(xml: string, shared: readonly string[]): string[][] {
  const rows: string[][] = []
  for (const [, body = ''] of xml.matchAll(/<row\b[^>]*?(?:\/>|>([\s\S]*?)<\/row>)/g)) {
    if (rows.length >= MOST_ROWS) throw new Error('this sheet has too many rows')
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
    rows.push(row)
  }
  return rows
}

import { csvRows } from './csv-text'
import type { CutShapeCode } from './cut-shapes'
import { readHead, SHEET_COLUMNS, type SheetCells, type SheetColumn } from './sheet-columns'
import { isMeasureColumn, unitOfSign } from './sheet-measure'
import { codeOfWord, isChosen } from './sheet-words'

/** What was pasted, row by row. Nothing is dropped: what has no column of ours goes into the note. */
type Pasted = Readonly<{
  rows: readonly SheetCells[]
  hasHead: boolean
  /** Heads that are no column of ours. */
  unknownHeads: readonly string[]
  /** No metal was pasted: carbon steel is filled in, for the person to look at. */
  isMetalFilled: boolean
}>

/** A cell that is an inch or a ditto sign and nothing else opens no quoted cell. */
const LONE_SIGN = /(^|\t)"(?=\t|$)/gm

/** Rows and cells of text copied from a spreadsheet: tabs between cells, quotes around line breaks. */
export function splitPasted(text: string): string[][] {
  const plain = text.replaceAll(/\r\n?/g, '\n').replaceAll(LONE_SIGN, '$1""""')
  return csvRows(plain, '\t').filter((cells) => cells.some((one) => one.trim() !== ''))
}

type Place = { column: SheetColumn | null; head: string; unit: string }

/** The first row is a head when at least two of its cells name a column, and none is a number. */
function headOf(first: readonly string[]): Place[] | null {
  const places = first.map((text) => ({ ...readHead(text), head: text.trim() }))
  const named = places.filter((place) => place.column !== null).length
  return named >= 2 && first.every((text) => !/^\s*\d/.test(text)) ? once(places) : null
}

/** Two heads of the same name: the second is kept as a note. */
const once = (places: Place[]): Place[] =>
  places.map((place, index) =>
    places.findIndex((one) => one.column === place.column) < index
      ? { ...place, column: null }
      : place,
  )

/** A number under "Thickness (mm)" is in millimetres unless the cell names its own. */
function withHeadUnit(text: string, { column, unit }: Place): string {
  const isBare = /^[\d.,/\s-]*\d$/.test(text)
  return column && isMeasureColumn(column) && isBare && unitOfSign(unit) ? `${text} ${unit}` : text
}

function cellsOf(row: readonly string[], places: readonly Place[]): SheetCells {
  const cells: Partial<Record<SheetColumn, string>> = {}
  const rest: string[] = []
  row.forEach((raw, index) => {
    const text = raw.trim().replace(/\s*\n\s*/g, ' ')
    const place = places[index]
    if (text === '') return
    if (!place?.column) rest.push(place?.head ? `${place.head}: ${text}` : text)
    else if (isChosen(place.column)) cells[place.column] = codeOfWord(place.column, text)
    else cells[place.column] = withHeadUnit(text, place)
  })
  const note = [cells.note, ...rest].filter(Boolean).join('. ')
  return note ? { ...cells, note } : cells
}

/** How a section's name begins, or what is in it, by shape. */
const SHAPE_OF_NAME: readonly (readonly [RegExp, CutShapeCode])[] = [
  [/^w\s*\d/i, 'w_shape'],
  [/^s\s*\d/i, 's_shape'],
  [/^c\s*\d/i, 'channel'],
  [/^l\s*\d/i, 'angle'],
  [/^hss\s*\d/i, 'hss'],
  [/^#\s*\d/, 'rebar'],
  [/^\d.*\b(sch|schedule|std|xs|xxs)\b/i, 'pipe_size'],
]

/** A section by its name needs no word for its shape; a pipe by schedule is no pipe by measures. */
function withShape(cells: SheetCells): SheetCells {
  if (cells.shape && cells.shape !== 'pipe') return cells
  const name = cells.section?.trim() ?? ''
  const shape = SHAPE_OF_NAME.find(([pattern]) => pattern.test(name))?.[1]
  if (!shape || (cells.shape === 'pipe' && shape !== 'pipe_size')) return cells
  return { ...cells, shape }
}

/**
 * Reads rows pasted from a spreadsheet.
 *
 * @param text tab-separated; a head row names the columns in any order, without one the sheet's own order holds
 */
export function readPasted(text: string): Pasted {
  const [first = [], ...others] = splitPasted(text)
  const head = headOf(first)
  const places = head ?? SHEET_COLUMNS.map((column) => ({ column, head: '', unit: '' }))
  const body = head ? others : [first, ...others]
  const isMetalFilled = head?.every((place) => place.column !== 'material') ?? false
  const rows = body
    .filter((row) => row.length > 0)
    .map((row) => withShape(cellsOf(row, places)))
    .map((cells) => (isMetalFilled ? { ...cells, material: 'carbon_steel' } : cells))
  return {
    rows,
    hasHead: head !== null,
    unknownHeads: (head ?? []).filter((place) => !place.column && place.head).map((p) => p.head),
    isMetalFilled: isMetalFilled && rows.length > 0,
  }
}

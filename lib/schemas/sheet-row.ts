import { type CutShapeCode, type DescribedCut, describedCutSchema } from './cut'
import { SHEET_COLUMNS, type SheetCells, type SheetColumn } from './sheet-columns'
import { kindOf, readMeasure, type SheetUnits } from './sheet-measure'
import { choicesOf, codeOfWord, ROW_CONDITIONS } from './sheet-words'

/** What is wrong in one cell, as a code. */
export type CellProblem = Readonly<{ column: SheetColumn; code: string; value: string }>

export type ReadRow =
  | Readonly<{ ok: true; cut: DescribedCut }>
  | Readonly<{ ok: false; problems: readonly CellProblem[] }>

type Measured = 'thickness' | 'width' | 'length'
const MEASURED: readonly Measured[] = ['thickness', 'width', 'length']

/** Which box of the form a column fills, by shape. A measure that a shape has no use for is a problem, never dropped. */
const BOX_OF_COLUMN: Readonly<Record<CutShapeCode, Partial<Record<Measured, string>>>> = {
  plate: { thickness: 'thickness', length: 'length' },
  flat_bar: { thickness: 'thickness', width: 'width' },
  square_bar: { width: 'side' },
  round_bar: { width: 'diameter' },
  pipe: { thickness: 'wall', width: 'outside' },
  w_shape: {},
}

const COLUMN_OF_BOX: Readonly<Record<string, SheetColumn>> = {
  side: 'width',
  diameter: 'width',
  outside: 'width',
  wall: 'thickness',
  designation: 'section',
  pieceLength: 'piece',
  pieceArea: 'piece',
  pieceWeight: 'weight',
}

/** The columns that a row of this shape is asked for; of a shape not yet named, all. */
export function columnsOfShape(shape: string): ReadonlySet<SheetColumn> {
  const isKnown = isShape(shape)
  const unused = MEASURED.filter((column) => isKnown && BOX_OF_COLUMN[shape][column] === undefined)
  const named = new Set<SheetColumn>(unused)
  if (isKnown && shape !== 'w_shape') named.add('section')
  return new Set(SHEET_COLUMNS.filter((column) => !named.has(column)))
}

const isShape = (code: string): code is CutShapeCode => code in BOX_OF_COLUMN

type Boxes = Record<string, string>

function measureBoxes(cells: SheetCells, shape: CutShapeCode, units: SheetUnits): Boxes {
  const boxes: Boxes = {}
  const put = (column: Measured | 'piece' | 'weight', box: string) => {
    const { text, unit } = readMeasure(cells[column] ?? '', kindOf(column, shape), units)
    boxes[box] = text
    boxes[`${box}Unit`] = unit
  }
  for (const column of MEASURED) {
    const box = BOX_OF_COLUMN[shape][column]
    if (box) put(column, box)
  }
  if (cells.piece?.trim()) put('piece', shape === 'plate' ? 'pieceArea' : 'pieceLength')
  if (cells.weight?.trim()) put('weight', 'pieceWeight')
  return boxes
}

/** `pierced, dirty` as the form's ticks, and the words among them that mean nothing to us. */
function conditionTicks(text: string): { ticks: Boxes; unknown: string[] } {
  const words = text.split(/[,;]/).map((word) => word.trim().toLowerCase())
  const known: readonly string[] = ROW_CONDITIONS
  return {
    ticks: Object.fromEntries(
      words.filter((word) => known.includes(word)).map((word) => [word, 'yes']),
    ),
    unknown: words.filter((word) => word !== '' && !known.includes(word)),
  }
}

/** Cells that this shape has no use for. */
function uselessCells(cells: SheetCells, shape: CutShapeCode): CellProblem[] {
  const asked = columnsOfShape(shape)
  return SHEET_COLUMNS.filter((column) => !asked.has(column) && cells[column]?.trim()).map(
    (column) => ({ column, code: 'NOT_FOR_SHAPE', value: cells[column] ?? '' }),
  )
}

/** A word that is no metal of ours. The form of a single cut offers only those. */
function unknownMetal(cells: SheetCells): CellProblem[] {
  const code = codeOfWord('material', cells.material ?? '')
  return code === '' || choicesOf('material').includes(code)
    ? []
    : [{ column: 'material', code: 'UNKNOWN_WORD', value: code }]
}

function boxesOf(cells: SheetCells, shape: CutShapeCode, units: SheetUnits): Boxes {
  const word = (column: SheetColumn, empty: string) =>
    codeOfWord(column, cells[column] ?? '') || empty
  return {
    shape,
    title: cells.title ?? '',
    designation: cells.section ?? '',
    count: cells.count ?? '',
    material: word('material', ''),
    // Nobody has looked yet: that is not the same as bare.
    coating: word('coating', 'unknown'),
    position: word('position', 'flat'),
    bevel: (cells.bevel ?? '').replace(/\s*(°|deg)$/i, ''),
    note: cells.note ?? '',
    ...measureBoxes(cells, shape, units),
    ...conditionTicks(cells.conditions ?? '').ticks,
  }
}

/**
 * Reads one row of the sheet by the same schema as the form of a single cut.
 *
 * @param cells the row's text by column
 * @param units what a number without a unit is in
 * @returns the cut as the database keeps it, or every cell that has something to put right
 */
export function readSheetRow(cells: SheetCells, units: SheetUnits): ReadRow {
  const shape = codeOfWord('shape', cells.shape ?? '')
  if (!isShape(shape)) {
    const code = shape === '' ? 'REQUIRED' : 'UNKNOWN_WORD'
    return { ok: false, problems: [{ column: 'shape', code, value: shape }] }
  }
  const found = describedCutSchema.safeParse(boxesOf(cells, shape, units))
  const problems: CellProblem[] = [
    ...(found.error?.issues ?? []).map(({ path, message }) => {
      const box = String(path[0])
      const column = COLUMN_OF_BOX[box] ?? (box as SheetColumn)
      const value = cells[column] ?? ''
      return { column, code: codeOfIssue(message, value), value }
    }),
    ...conditionTicks(cells.conditions ?? '').unknown.map((value) => ({
      column: 'conditions' as const,
      code: 'UNKNOWN_WORD',
      value,
    })),
    ...unknownMetal(cells),
    ...uselessCells(cells, shape),
  ]
  return problems.length === 0 && found.success
    ? { ok: true, cut: found.data }
    : { ok: false, problems }
}

/** A schema's own code, or what an empty cell and a word outside the list come to. */
function codeOfIssue(message: string, value: string): string {
  if (value.trim() === '') return 'REQUIRED'
  return /^[A-Z][A-Z0-9_]+$/.test(message) && message !== 'CHOOSE_ONE' ? message : 'UNKNOWN_WORD'
}

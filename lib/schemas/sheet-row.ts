import { type DescribedCut, describedCutSchema } from './cut'
import { type CutShapeCode, SHAPES } from './cut-shapes'
import { boxesByColumn, columnOfBox, columnsOfShape, isShape } from './sheet-boxes'
import { SHEET_COLUMNS, type SheetCells, type SheetColumn } from './sheet-columns'
import { isMeasureColumn, kindOf, readMeasure, type SheetUnits } from './sheet-measure'
import { choicesOf, codeOfWord, conditionOf } from './sheet-words'

/** What is wrong in one cell, as a code. */
export type CellProblem = Readonly<{ column: SheetColumn; code: string; value: string }>

export type ReadRow =
  | Readonly<{ ok: true; cut: DescribedCut }>
  | Readonly<{ ok: false; problems: readonly CellProblem[] }>

type Boxes = Record<string, string>
type Row = Readonly<{ cells: SheetCells; shape: CutShapeCode; task: string; units: SheetUnits }>

const degrees = (text: string) => text.replace(/\s*(°|deg)$/i, '')

function boxesOf({ cells, shape, task, units }: Row): Boxes {
  const boxes: Boxes = {}
  for (const [column, box] of boxesByColumn(shape, task)) {
    const typed = cells[column] ?? ''
    if (isMeasureColumn(column)) {
      const { text, unit } = readMeasure(typed, kindOf(column, shape), units)
      boxes[box] = text
      boxes[`${box}Unit`] = unit
    } else if (column === 'bevel' || column === 'miter') boxes[box] = degrees(typed)
    else boxes[box] = column === 'part' ? codeOfWord('part', typed) : typed
  }
  return { ...boxes, task }
}

/** `pierced, dirty` as the form has it, and the words among them that mean nothing to us or nothing for this shape. */
function conditionBoxes({ cells, shape, task }: Row): { boxes: Boxes; problems: CellProblem[] } {
  const words = (cells.conditions ?? '').split(/[,;]/).map((word) => word.trim())
  const boxes: Boxes = {}
  const problems: CellProblem[] = []
  const mayStart = boxesByColumn(shape, task).has('restarts')
  for (const value of words.filter(Boolean)) {
    const code = conditionOf(value)
    const isStart = code === 'pierced' || code === 'edge'
    if (code === null) problems.push({ column: 'conditions', code: 'UNKNOWN_WORD', value })
    else if (isStart && !mayStart)
      problems.push({ column: 'conditions', code: 'NOT_FOR_SHAPE', value })
    else if (isStart) boxes.start = code === 'edge' ? 'edge' : 'inside'
    else boxes[code] = 'yes'
  }
  return { boxes, problems }
}

/** Cells that this shape and task have no use for. */
function uselessCells({ cells, shape, task }: Row): CellProblem[] {
  const asked = columnsOfShape(shape, task)
  return SHEET_COLUMNS.filter(
    (column) =>
      !asked.has(column) && cells[column]?.trim() && !(column === 'task' && task === 'sever'),
  ).map((column) => ({ column, code: 'NOT_FOR_SHAPE', value: cells[column] ?? '' }))
}

/** A word that is no task of ours, or none that this shape can have. */
function wrongTask({ cells, shape, task }: Row): CellProblem[] {
  const { tasks } = SHAPES[shape]
  if (tasks.length < 2 || tasks.some((one) => one === task)) return []
  const isKnown = choicesOf('task').includes(task)
  return [
    { column: 'task', code: isKnown ? 'NOT_FOR_SHAPE' : 'UNKNOWN_WORD', value: cells.task ?? '' },
  ]
}

/** A word that is no metal of ours. The form of a single cut offers only those. */
function unknownMetal({ cells }: Row): CellProblem[] {
  const code = codeOfWord('material', cells.material ?? '')
  return code === '' || choicesOf('material').includes(code)
    ? []
    : [{ column: 'material', code: 'UNKNOWN_WORD', value: code }]
}

function formOf(row: Row): Boxes {
  const { cells } = row
  const word = (column: SheetColumn, empty: string) =>
    codeOfWord(column, cells[column] ?? '') || empty
  return {
    shape: row.shape,
    title: cells.title ?? '',
    count: cells.count ?? '',
    material: word('material', ''),
    // Nobody has looked yet: that is not the same as bare.
    coating: word('coating', 'unknown'),
    position: word('position', 'flat'),
    note: cells.note ?? '',
    ...boxesOf(row),
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
  const row = { cells, shape, task: codeOfWord('task', cells.task ?? '') || 'sever', units }
  const conditions = conditionBoxes(row)
  const found = describedCutSchema.safeParse({ ...formOf(row), ...conditions.boxes })
  const problems: CellProblem[] = [
    ...(found.error?.issues ?? []).map(({ path, message }) => {
      const box = String(path[0])
      const column = columnOfBox(box) ?? (box as SheetColumn)
      const value = cells[column] ?? ''
      return { column, code: codeOfIssue(message, value), value }
    }),
    ...conditions.problems,
    ...unknownMetal(row),
    ...wrongTask(row),
    ...uselessCells(row),
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

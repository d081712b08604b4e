import type { CutInput } from '@/lib/calc/estimate-types'
import { toCutInput } from '@/lib/schemas/cut-input'
import {
  SELDOM_COLUMNS,
  SHEET_COLUMNS,
  type SheetCells,
  type SheetColumn,
} from '@/lib/schemas/sheet-columns'
import type { SheetUnits } from '@/lib/schemas/sheet-measure'
import { type ReadRow, readSheetRow } from '@/lib/schemas/sheet-row'
import type { SheetChanges } from '@/lib/schemas/sheet-save'

/** A row of the list as the page hands it over. */
export type StartRow = Readonly<{
  cutId: string
  version: number
  doneCount: number
  cells: SheetCells
}>

export type SheetRow = Readonly<{
  /** The cut's id; a new row has a key of its own. */
  key: string
  cutId: string | null
  version: number
  doneCount: number
  cells: SheetCells
  /** As the list has it; null for a new row. */
  original: SheetCells | null
  read: ReadRow
  /** As lib/calc takes it; null while something is to put right. */
  input: CutInput | null
  /** Nothing in it; and differs from the list. Kept with the row, so that a key costs no look at the others' cells. */
  isEmpty: boolean
  isChanged: boolean
  /** Something stands or is missing in a column that few cuts need. */
  needsWide: boolean
}>

export type SheetContext = Readonly<{ units: SheetUnits; process: 'hand' | 'machine' }>

const isEmptyCells = (cells: SheetCells): boolean =>
  SHEET_COLUMNS.every((column) => !cells[column]?.trim())

const isSame = (a: SheetCells, b: SheetCells) =>
  SHEET_COLUMNS.every((column) => (a[column] ?? '') === (b[column] ?? ''))

function needsWide(cells: SheetCells, read: ReadRow): boolean {
  for (const column of SELDOM_COLUMNS) if (cells[column]?.trim()) return true
  return !read.ok && read.problems.some((problem) => SELDOM_COLUMNS.has(problem.column))
}

function withCells(
  row: Omit<SheetRow, 'cells' | 'read' | 'input' | 'isEmpty' | 'isChanged' | 'needsWide'>,
  cells: SheetCells,
  { units, process }: SheetContext,
): SheetRow {
  const read = readSheetRow(cells, units)
  const { key: id, doneCount } = row
  const input = read.ok ? toCutInput({ id, doneCount, ...read.cut }, process) : null
  const isEmpty = isEmptyCells(cells)
  const isChanged = row.original ? !isSame(cells, row.original) : !isEmpty
  return { ...row, cells, read, input, isEmpty, isChanged, needsWide: needsWide(cells, read) }
}

export const rowOf = (start: StartRow, context: SheetContext): SheetRow => {
  const { cutId, version, doneCount, cells } = start
  return withCells({ key: cutId, cutId, version, doneCount, original: cells }, cells, context)
}

export const newRow = (key: string, cells: SheetCells, context: SheetContext): SheetRow =>
  withCells({ key, cutId: null, version: 0, doneCount: 0, original: null }, cells, context)

export function setCell(
  rows: readonly SheetRow[],
  at: { index: number; column: SheetColumn; text: string },
  context: SheetContext,
): readonly SheetRow[] {
  const row = rows[at.index]
  if (!row) return rows
  return rows.with(at.index, withCells(row, { ...row.cells, [at.column]: at.text }, context))
}

/** New rows with something in them, and rows of the list that differ from it. */
export const changedRows = (rows: readonly SheetRow[]): SheetRow[] =>
  rows.filter((row) => row.isChanged)

/** What goes to the server: changed rows alone, and what was taken off. */
export function changesOf(
  rows: readonly SheetRow[],
  removed: readonly SheetRow[],
  units: SheetUnits,
): SheetChanges {
  return {
    units,
    rows: changedRows(rows).map(({ cutId, version, cells }) =>
      cutId ? { cutId, version, cells } : { cells },
    ),
    removed: removed.flatMap(({ cutId, version }) => (cutId ? [{ cutId, version }] : [])),
  }
}

/** Puts an unsaved draft back onto the list as it stands now. A row that is gone from it becomes a new one. */
export function withDraft(
  start: readonly SheetRow[],
  draft: SheetChanges,
  newKey: () => string,
  context: SheetContext,
): { rows: readonly SheetRow[]; removed: readonly SheetRow[] } {
  const changed = new Map(draft.rows.flatMap((row) => (row.cutId ? [[row.cutId, row]] : [])))
  const goneIds = new Set(draft.removed.map((row) => row.cutId))
  const kept = start
    .filter((row) => !goneIds.has(row.key))
    .map((row) => {
      const cells = changed.get(row.key)?.cells
      return cells ? withCells(row, cells, context) : row
    })
  const known = new Set(start.map((row) => row.key))
  const added = draft.rows
    .filter((row) => !row.cutId || !known.has(row.cutId))
    .map((row) => newRow(newKey(), row.cells, context))
  return { rows: [...kept, ...added], removed: start.filter((row) => goneIds.has(row.key)) }
}

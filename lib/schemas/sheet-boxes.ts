import { boxesOfCut, CUT_SHAPES, type CutShapeCode } from './cut-shapes'
import { SHEET_COLUMNS, type SheetColumn } from './sheet-columns'

/** Boxes of a cut's form that stand in one column of the sheet; which of them it is depends on shape and task. */
const BOXES_OF_COLUMN = {
  section: ['designation'],
  thickness: ['thickness', 'wall', 'depth'],
  width: ['width', 'side', 'diameter', 'outside', 'shank'],
  length: ['length', 'area'],
  bevel: ['bevel'],
  piece: ['pieceLength', 'pieceArea'],
  weight: ['pieceWeight'],
  task: ['task'],
  along: ['along'],
  into: ['into', 'land'],
  part: ['part'],
  miter: ['miter'],
  stack: ['stack'],
  restarts: ['restarts'],
  ownOxygen: ['ownOxygen'],
  ownFuel: ['ownFuel'],
  ownRate: ['ownSpeed', 'ownArea'],
} as const satisfies Partial<Record<SheetColumn, readonly string[]>>

export type BoxedColumn = keyof typeof BOXES_OF_COLUMN
const BOXED = Object.keys(BOXES_OF_COLUMN) as BoxedColumn[]
const isBoxed = (column: SheetColumn): column is BoxedColumn => column in BOXES_OF_COLUMN

const COLUMN_OF_BOX: ReadonlyMap<string, SheetColumn> = new Map(
  BOXED.flatMap((column) => BOXES_OF_COLUMN[column].map((box) => [box, column] as const)),
)
/** The column that a box of the form stands in; its own where it is the only one of its name. */
export const columnOfBox = (box: string): SheetColumn | null =>
  COLUMN_OF_BOX.get(box) ?? SHEET_COLUMNS.find((column) => column === box) ?? null

export const isShape = (code: string): code is CutShapeCode =>
  (CUT_SHAPES as readonly string[]).includes(code)

type ColumnBoxes = ReadonlyMap<BoxedColumn, string>
const found = new Map<string, ColumnBoxes>()

/** Which box each column fills for this shape and task. */
export function boxesByColumn(shape: CutShapeCode, task: string): ColumnBoxes {
  const key = `${shape} ${task}`
  const before = found.get(key)
  if (before) return before
  const asked: ReadonlySet<string> = boxesOfCut(shape, task)
  const boxes = new Map(
    BOXED.flatMap((column) => {
      const box = BOXES_OF_COLUMN[column].find((one) => asked.has(one))
      return box ? [[column, box] as const] : []
    }),
  )
  // Shapes and tasks are few; words that are neither are not kept.
  if (found.size < 200) found.set(key, boxes)
  return boxes
}

const everyColumn: ReadonlySet<SheetColumn> = new Set(SHEET_COLUMNS)
const askedBy = new WeakMap<ColumnBoxes, ReadonlySet<SheetColumn>>()

/** The columns that a row of this shape and task is asked for; of a shape not yet named, all. */
export function columnsOfShape(shape: string, task: string): ReadonlySet<SheetColumn> {
  if (!isShape(shape)) return everyColumn
  const boxes = boxesByColumn(shape, task)
  const before = askedBy.get(boxes)
  if (before) return before
  const asked = new Set(SHEET_COLUMNS.filter((column) => !isBoxed(column) || boxes.has(column)))
  askedBy.set(boxes, asked)
  return asked
}

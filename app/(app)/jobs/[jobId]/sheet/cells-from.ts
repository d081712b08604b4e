import type { CutRow } from '@/lib/data/cut-rows'
import type { SheetCells, SheetColumn } from '@/lib/schemas/sheet-columns'
import { typedFrom } from '../cut/typed-from'
import type { StartRow } from './sheet-state'

const COLUMN_OF_BOX: Readonly<Record<string, SheetColumn>> = {
  thickness: 'thickness',
  wall: 'thickness',
  width: 'width',
  side: 'width',
  diameter: 'width',
  outside: 'width',
  length: 'length',
  designation: 'section',
  bevel: 'bevel',
  pieceLength: 'piece',
  pieceArea: 'piece',
  pieceWeight: 'weight',
  title: 'title',
  count: 'count',
  note: 'note',
}

/** A cut of the list as a row of the sheet, in the person's units. */
export function rowFrom(cut: CutRow, viewer: Readonly<{ units: 'us' | 'si' }>): StartRow {
  const { boxes, shape, material, coating, position, ...ticks } = typedFrom(cut, viewer)
  const conditions = (['pierced', 'dirty', 'awkward'] as const).filter((name) => ticks[name])
  const cells: SheetCells = {
    shape,
    material,
    coating,
    position,
    ...(conditions.length > 0 ? { conditions: conditions.join(', ') } : {}),
    ...Object.fromEntries(
      Object.entries(boxes).flatMap(([box, text]) => {
        const column = COLUMN_OF_BOX[box]
        return column && text ? [[column, text]] : []
      }),
    ),
  }
  return { cutId: cut.id, version: cut.version, doneCount: cut.doneCount, cells }
}

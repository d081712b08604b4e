import type { CutRow } from '@/lib/data/cut-rows'
import { columnOfBox } from '@/lib/schemas/sheet-boxes'
import type { SheetCells } from '@/lib/schemas/sheet-columns'
import { typedFrom } from '../cut/typed-from'
import type { StartRow } from './sheet-state'

const START_WORD: Readonly<Record<string, string>> = { inside: 'pierced', edge: 'edge' }

/** A cut of the list as a row of the sheet, in the person's units. */
export function rowFrom(cut: CutRow, viewer: Readonly<{ units: 'us' | 'si' }>): StartRow {
  const typed = typedFrom(cut, viewer)
  const { shape, material, coating, position, task, part } = typed
  const said = [START_WORD[typed.start], ...typed.conditions].filter(Boolean).join(', ')
  const cells: SheetCells = {
    shape,
    material,
    coating,
    position,
    ...(task === 'sever' ? {} : { task }),
    ...(part ? { part } : {}),
    ...(said ? { conditions: said } : {}),
    ...Object.fromEntries(
      Object.entries(typed.boxes).flatMap(([box, text]) => {
        const column = columnOfBox(box)
        return column && text ? [[column, text]] : []
      }),
    ),
  }
  return { cutId: cut.id, version: cut.version, doneCount: cut.doneCount, cells }
}

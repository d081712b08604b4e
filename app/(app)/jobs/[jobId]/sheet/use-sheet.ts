'use client'

import { useCallback, useMemo, useState } from 'react'
import { v4 as newKey } from 'uuid'
import type { SheetCells, SheetColumn } from '@/lib/schemas/sheet-columns'
import type { SheetChanges } from '@/lib/schemas/sheet-save'
import {
  changedRows,
  changesOf,
  newRow,
  rowOf,
  type SheetContext,
  type SheetRow,
  type StartRow,
  setCell,
  withDraft,
} from './sheet-state'

export type Sheet = ReturnType<typeof useSheet>

/** The rows of the sheet and what may be done to them. */
export function useSheet(start: readonly StartRow[], context: SheetContext) {
  const started = useMemo(() => start.map((row) => rowOf(row, context)), [start, context])
  const [state, setState] = useState<{
    rows: readonly SheetRow[]
    removed: readonly SheetRow[]
    /** Taken off last, to be put back. */
    last: { row: SheetRow; index: number } | null
  }>(() => ({ rows: started, removed: [], last: null }))
  const { rows, removed, last } = state

  const edit = useCallback(
    (index: number, column: SheetColumn, text: string) =>
      setState((was) => ({ ...was, rows: setCell(was.rows, { index, column, text }, context) })),
    [context],
  )
  const add = useCallback(
    (added: readonly SheetCells[]) =>
      setState((was) => ({
        ...was,
        rows: [
          ...was.rows.filter((row) => row.original || !row.isEmpty),
          ...added.map((cells) => newRow(newKey(), cells, context)),
        ],
      })),
    [context],
  )
  const remove = useCallback(
    (index: number) =>
      setState((was) => {
        const row = was.rows[index]
        if (!row || row.doneCount > 0) return was
        return {
          rows: was.rows.toSpliced(index, 1),
          removed: row.cutId ? [...was.removed, row] : was.removed,
          last: { row, index },
        }
      }),
    [],
  )
  const putBack = useCallback(
    () =>
      setState((was) =>
        was.last
          ? {
              rows: was.rows.toSpliced(was.last.index, 0, was.last.row),
              removed: was.removed.filter((row) => row.key !== was.last?.row.key),
              last: null,
            }
          : was,
      ),
    [],
  )
  const restore = useCallback(
    (draft: SheetChanges) =>
      setState({ ...withDraft(started, draft, newKey, context), last: null }),
    [started, context],
  )
  const changed = useMemo(() => changedRows(rows), [rows])
  return {
    rows,
    last,
    edit,
    add,
    remove,
    putBack,
    restore,
    changedCount: changed.length + removed.length,
    /** Changed rows that can't be saved yet. */
    wrong: useMemo(() => rows.filter((row) => !row.read.ok && !row.isEmpty), [rows]),
    changes: () => changesOf(rows, removed, context.units),
  }
}

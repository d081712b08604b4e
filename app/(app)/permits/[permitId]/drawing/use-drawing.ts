'use client'

import { useEffect, useState } from 'react'
import type { AreaDrawing, DrawnPoint, MarkKind } from '@/lib/permit/drawing'
import { withChangedMark, withChangedSheet, withMark } from '@/lib/permit/drawing-edit'

/** What a tap on the sheet does: put the work there, a new thing, or the chosen one; null: choose. */
export type Tool = 'work' | 'move' | MarkKind | null

interface InHand {
  drawing: AreaDrawing
  sheetId: string
  tool: Tool
  chosenId: string | null
}

/** The drawing in hand; it survives a reload until it is kept. */
export function useDrawing(storageKey: string, begin: AreaDrawing) {
  const [hand, setHand] = useState<InHand>({
    drawing: begin,
    sheetId: begin.workSheetId,
    tool: begin.sheets.some((sheet) => sheet.column) ? null : 'work',
    chosenId: null,
  })
  useEffect(() => {
    const kept = readDraft(storageKey)
    if (kept) setHand((was) => ({ ...was, drawing: kept, sheetId: kept.workSheetId, tool: null }))
  }, [storageKey])

  const set = (change: Partial<InHand>) => {
    setHand((was) => ({ ...was, ...change }))
    if (change.drawing) writeDraft(storageKey, change.drawing)
  }
  const place = (at: DrawnPoint, label: string) => {
    const { drawing, sheetId, tool, chosenId } = hand
    if (tool === 'work')
      set({ drawing: withChangedSheet(drawing, sheetId, { column: at }), tool: null })
    else if (tool === 'move' && chosenId)
      set({
        drawing: withChangedMark(drawing, chosenId, { at, sheetId, measuredM: null }),
        tool: null,
      })
    else if (tool && tool !== 'move') {
      const [next, id] = withMark(drawing, { kind: tool, sheetId, label, at })
      set({ drawing: next, chosenId: id, tool: null })
    }
  }
  return { ...hand, set, place, forget: () => writeDraft(storageKey, null) }
}

export type Hand = ReturnType<typeof useDrawing>

function readDraft(key: string): AreaDrawing | null {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(key) ?? 'null')
    return typeof kept === 'object' && kept !== null && 'sheets' in kept
      ? (kept as AreaDrawing)
      : null
  } catch {
    return null
  }
}

function writeDraft(key: string, drawing: AreaDrawing | null): void {
  try {
    if (drawing) sessionStorage.setItem(key, JSON.stringify(drawing))
    else sessionStorage.removeItem(key)
  } catch {
    // A full or closed storage only costs what was drawn on a reload.
  }
}

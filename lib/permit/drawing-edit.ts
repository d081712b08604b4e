import type { AreaDrawing, DrawnMark, DrawnPoint, DrawnSheet, MarkKind } from './drawing'
import { onGrid, pointToward, workPoint } from './drawing'

/** One level, nothing on it. */
export function blankDrawing(input: { sheetName: string; sideM: number }): AreaDrawing {
  return {
    workSheetId: 'level-1',
    sheets: [
      {
        id: 'level-1',
        name: input.sheetName,
        heightM: 0,
        widthM: input.sideM,
        depthM: input.sideM,
        column: null,
        pictureId: null,
      },
    ],
    marks: [],
  }
}

function freeId(prefix: string, taken: readonly { id: string }[]): string {
  const numbers = taken.map(({ id }) => Number(id.slice(prefix.length)) || 0)
  return `${prefix}${Math.max(0, ...numbers) + 1}`
}

/** What nobody has said yet is the strictest: it stays, it exposes, it is reached by nothing but what was said. */
const BEGINS: Readonly<Record<MarkKind, Partial<DrawnMark>>> = {
  opening: { opening: { kind: 'wall', exposes: null, canClose: false } },
  burnable: { burnable: { state: 'stays', isEasilyLit: false } },
  sprinkler_head: { head: { isReached: false } },
  extinguisher: { extinguisher: { ratingA: 2, ratingB: 20 } },
  watch_post: {},
}

export interface NewMark {
  kind: MarkKind
  sheetId: string
  label: string
  at: DrawnPoint
  measuredM?: number | null
}

export function withMark(drawing: AreaDrawing, input: NewMark): [AreaDrawing, string] {
  const id = freeId('m', drawing.marks)
  const { kind, sheetId, label, at, measuredM = null } = input
  const mark: DrawnMark = { id, kind, sheetId, label, at: onGrid(at), measuredM, ...BEGINS[kind] }
  return [{ ...drawing, marks: [...drawing.marks, mark] }, id]
}

export function withChangedMark(
  drawing: AreaDrawing,
  id: string,
  change: Partial<DrawnMark>,
): AreaDrawing {
  return {
    ...drawing,
    marks: drawing.marks.map((mark) => (mark.id === id ? { ...mark, ...change } : mark)),
  }
}

export function withoutMark(drawing: AreaDrawing, id: string): AreaDrawing {
  return { ...drawing, marks: drawing.marks.filter((mark) => mark.id !== id) }
}

/** Put where a tape says: so far from the work on its own sheet, in the direction of a clock's hand. */
export function measuredFrom(
  drawing: AreaDrawing,
  sheetId: string,
  { distanceM, clock }: { distanceM: number; clock: number },
): Pick<DrawnMark, 'at' | 'measuredM'> | null {
  const sheet = drawing.sheets.find((one) => one.id === sheetId)
  if (!sheet?.column) return null
  const at = pointToward(sheet.column, { distanceM, clock })
  const isOn = at.xM >= 0 && at.yM >= 0 && at.xM <= sheet.widthM && at.yM <= sheet.depthM
  return isOn ? { at, measuredM: distanceM } : null
}

export function withChangedSheet(
  drawing: AreaDrawing,
  id: string,
  change: Partial<DrawnSheet>,
): AreaDrawing {
  return {
    ...drawing,
    sheets: drawing.sheets.map((sheet) => (sheet.id === id ? { ...sheet, ...change } : sheet)),
  }
}

/** Another level of the same size, straight over or under the first: the work's column runs through both. */
export function withLevel(
  drawing: AreaDrawing,
  { name, heightM }: { name: string; heightM: number },
): [AreaDrawing, string] {
  const id = freeId('level-', drawing.sheets)
  const work = drawing.sheets.find((sheet) => sheet.id === drawing.workSheetId)
  const sheet: DrawnSheet = {
    id,
    name,
    heightM,
    widthM: work?.widthM ?? 30,
    depthM: work?.depthM ?? 30,
    column: workPoint(drawing),
    pictureId: null,
  }
  return [{ ...drawing, sheets: [...drawing.sheets, sheet] }, id]
}

/** The level with all that is on it; the level of the work stays. */
export function withoutLevel(drawing: AreaDrawing, id: string): AreaDrawing {
  if (id === drawing.workSheetId) return drawing
  return {
    ...drawing,
    sheets: drawing.sheets.filter((sheet) => sheet.id !== id),
    marks: drawing.marks.filter((mark) => mark.sheetId !== id),
  }
}

/** Lines of the grid: the first round step that gives at most two dozen across. */
export function gridStepM(widthM: number, units: 'us' | 'si'): number {
  const foot = 0.3048
  const steps = units === 'si' ? [1, 2, 5, 10, 20, 50] : [5, 10, 20, 50, 100].map((ft) => ft * foot)
  return steps.find((step) => widthM / step <= 24) ?? steps.at(-1) ?? widthM
}

/** The nearest mark on a sheet within a finger's reach of a point. */
export function markAt(
  drawing: AreaDrawing,
  sheetId: string,
  point: DrawnPoint,
  reachM: number,
): DrawnMark | null {
  const near = drawing.marks
    .filter((mark) => mark.sheetId === sheetId)
    .map((mark) => ({
      mark,
      away: Math.hypot(mark.at.xM - point.xM, mark.at.yM - point.yM),
    }))
    .filter(({ away }) => away <= reachM)
    .toSorted((a, b) => a.away - b.away)
  return near[0]?.mark ?? null
}

/** A point moved by steps and kept on its sheet. */
export function stepped(
  sheet: Pick<DrawnSheet, 'widthM' | 'depthM'>,
  from: DrawnPoint,
  by: { xM: number; yM: number },
): DrawnPoint {
  const clamp = (value: number, most: number) => Math.min(Math.max(0, value), most)
  return onGrid({
    xM: clamp(from.xM + by.xM, sheet.widthM),
    yM: clamp(from.yM + by.yM, sheet.depthM),
  })
}

import type { LayerId } from '../rules/types'
import type { AreaDrawing, DrawnDistance, DrawnMark } from './drawing'
import { distanceTo, workPoint } from './drawing'
import type { DistanceWording } from './drawing-limits'
import { isCaught, wordingsOf } from './drawing-limits'
import { reason } from './reasons'
import type { Reason } from './types'

/** Within this a thing counts for levels and for what lies below an opening; the strictest of the US texts. */
const NEAR_FT = 35

export interface MarkFinding {
  mark: DrawnMark
  distance: DrawnDistance | null
  /** On another level than the work. */
  isElsewhere: boolean
  /** On a level below the work. */
  isLower: boolean
  /** An opening in a floor under which something that burns is drawn, whatever was said of it. */
  burnsBelow: boolean
  wordings: readonly (DistanceWording & {
    citation: string | null
    isCaught: boolean | null
  })[]
}

const stays = (mark: DrawnMark) => mark.burnable !== undefined && mark.burnable.state !== 'movable'

/** Whether an opening exposes something that burns: said so, not said, or drawn below it. */
export function exposes(drawing: AreaDrawing, mark: DrawnMark): boolean {
  return mark.opening?.exposes !== false || burnsBelow(drawing, mark)
}

function burnsBelow(drawing: AreaDrawing, mark: DrawnMark): boolean {
  const from = drawing.sheets.find((sheet) => sheet.id === mark.sheetId)
  const leadsDown = mark.opening?.kind === 'floor' || mark.opening?.kind === 'shaft'
  if (!from || !leadsDown) return false
  return drawing.marks.some((one) => {
    if (!stays(one)) return false
    const below = drawing.sheets.find((sheet) => sheet.id === one.sheetId)
    const distance = distanceTo(drawing, one)
    return (
      below !== undefined &&
      below.heightM < from.heightM &&
      distance !== null &&
      distance.levelFt <= NEAR_FT
    )
  })
}

function wordingKind(mark: DrawnMark): 'burnable' | 'opening' | 'extinguisher' | null {
  if (mark.burnable) return 'burnable'
  if (mark.opening) return 'opening'
  return mark.extinguisher ? 'extinguisher' : null
}

const heightOf = (drawing: AreaDrawing, sheetId: string) =>
  drawing.sheets.find((sheet) => sheet.id === sheetId)?.heightM ?? 0

/** What lies closer than, at or within the limit, mark by mark, as each of these layers words it; nearest first. */
export function drawingFindings(drawing: AreaDrawing, layers: readonly LayerId[]): MarkFinding[] {
  const found = drawing.marks.map((mark): MarkFinding => {
    const distance = distanceTo(drawing, mark)
    const kind = wordingKind(mark)
    return {
      mark,
      distance,
      isElsewhere: mark.sheetId !== drawing.workSheetId,
      isLower: heightOf(drawing, mark.sheetId) < heightOf(drawing, drawing.workSheetId),
      burnsBelow: burnsBelow(drawing, mark),
      wordings:
        kind && distance
          ? wordingsOf(kind, layers).map((one) => ({
              ...one,
              isCaught: isCaught(one, distance, mark),
            }))
          : [],
    }
  })
  return found.toSorted((a, b) => (a.distance?.countedFt ?? 0) - (b.distance?.countedFt ?? 0))
}

/** Levels on which something near burns or is open, and where nobody is posted to watch. */
export function levelsWithoutPost(drawing: AreaDrawing): string[] {
  const watched = new Set(
    drawing.marks.filter((mark) => mark.kind === 'watch_post').map((mark) => mark.sheetId),
  )
  const exposed = drawing.marks.filter((mark) => {
    if (!(stays(mark) || (mark.opening && !mark.opening.canClose && exposes(drawing, mark))))
      return false
    const distance = distanceTo(drawing, mark)
    return distance === null || distance.countedFt <= NEAR_FT
  })
  const ids = new Set(exposed.map((mark) => mark.sheetId).filter((id) => !watched.has(id)))
  // The watch stands where the work is; other levels need somebody of their own.
  return drawing.sheets
    .filter((sheet) => ids.has(sheet.id) && sheet.id !== drawing.workSheetId)
    .map((sheet) => sheet.name)
}

/** Why a drawing can't be relied on as it is; an area that was not drawn has no such reasons. */
export function drawingReasons(drawing: AreaDrawing): Reason[] {
  if (drawing.marks.length === 0 && workPoint(drawing) === null) return []
  const used = new Set(drawing.marks.map((mark) => mark.sheetId))
  const blind = drawing.sheets.filter(
    (sheet) => sheet.column === null && used.has(sheet.id) && sheet.id !== drawing.workSheetId,
  )
  const unsaid = drawing.marks.filter((mark) => mark.opening?.exposes === null)
  return [
    ...(workPoint(drawing) === null ? [reason('drawing_no_work_point')] : []),
    ...blind.map((sheet) => reason('drawing_level_not_placed', { sheet: sheet.name })),
    ...(unsaid.length > 0 ? [reason('drawing_opening_unsaid', { count: unsaid.length })] : []),
  ]
}

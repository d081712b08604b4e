import type { Opening } from '../rules/conditions'

export const MARK_KINDS = [
  'opening',
  'burnable',
  'sprinkler_head',
  'extinguisher',
  'watch_post',
] as const
export type MarkKind = (typeof MARK_KINDS)[number]

/** Metres from the upper left corner of a sheet. */
export interface DrawnPoint {
  xM: number
  yM: number
}

/** One level of the area, drawn to scale. */
export interface DrawnSheet {
  id: string
  name: string
  /** Its floor above (or, negative, below) the floor on which the work is. */
  heightM: number
  /** What the sheet shows, edge to edge. */
  widthM: number
  depthM: number
  /** The point straight above or below the work; on the sheet of the work, the work itself. */
  column: DrawnPoint | null
  /** An uploaded plan behind the marks; null: a blank grid. */
  pictureId: string | null
}

export type BurnableState = 'movable' | 'covered' | 'stays' | 'unprotectable'

export interface DrawnMark {
  id: string
  sheetId: string
  kind: MarkKind
  at: DrawnPoint
  label: string
  /** What a tape measured from the work, level; null: read off the drawing. */
  measuredM: number | null
  /** Of an opening. `exposes` null: nobody said, and it counts as exposing. */
  opening?: { kind: Opening['kind']; exposes: boolean | null; canClose: boolean }
  burnable?: { state: BurnableState; isEasilyLit: boolean }
  /** Of a sprinkler head: sparks or heat can reach it. No text gives a number for that, so a person says. */
  head?: { isReached: boolean }
  extinguisher?: { ratingA: number; ratingB: number }
}

export interface AreaDrawing {
  /** The sheet on which the work is. */
  workSheetId: string
  sheets: readonly DrawnSheet[]
  marks: readonly DrawnMark[]
}

/** Exact since 1959 (international foot). */
export const M_PER_FT = 0.3048
/** The circle that every drawing shows: 35 ft, which the texts round to 11 m. */
export const LIMIT_CIRCLE_M = 35 * M_PER_FT
/** A thing placed by finger or by eye may lie a foot from where it is drawn. */
export const PLACED_WITHIN_M = 1 * M_PER_FT
const TENTH_MM_PER_M = 10_000
/** 1 ft is 3,048 tenths of a millimetre, exactly, so that 35 ft drawn is 35 ft found. */
const TENTH_MM_PER_FT = 3_048

const tenths = (metres: number) => Math.round(metres * TENTH_MM_PER_M)
/** Whole feet come out whole, and whole metres as the limits in metres do: both are compared exactly. */
function toFt(inTenths: number): number {
  const feet = inTenths / TENTH_MM_PER_FT
  return Number.isInteger(feet) ? feet : inTenths / TENTH_MM_PER_M / M_PER_FT
}

export interface DrawnDistance {
  /** Along the floor, up or down, and as a straight line. */
  levelFt: number
  heightFt: number
  straightFt: number
  /**
   * What counts against a limit: the larger of level and height, which is the strictest reading (a
   * text that counts both ways counts so, and no sphere is closer), less what a finger may be off.
   */
  countedFt: number
  isMeasured: boolean
}

const sheetOf = (drawing: AreaDrawing, id: string) =>
  drawing.sheets.find((sheet) => sheet.id === id) ?? null

/** Where the work is; null until it is placed. */
export function workPoint(drawing: AreaDrawing): DrawnPoint | null {
  return sheetOf(drawing, drawing.workSheetId)?.column ?? null
}

function drawnLevel(a: DrawnPoint, b: DrawnPoint): number {
  return Math.sqrt((tenths(a.xM) - tenths(b.xM)) ** 2 + (tenths(a.yM) - tenths(b.yM)) ** 2)
}

/** Along the floor from one point of a sheet to another. */
export function feetBetween(a: DrawnPoint, b: DrawnPoint): number {
  return toFt(drawnLevel(a, b))
}

/**
 * A mark's distance from the work, over levels; null while its sheet says nothing of where the work is.
 * A measured distance counts as long as the mark still lies where it was measured; once work or mark
 * were moved, the nearer of the two does.
 */
export function distanceTo(drawing: AreaDrawing, mark: DrawnMark): DrawnDistance | null {
  const sheet = sheetOf(drawing, mark.sheetId)
  const work = sheetOf(drawing, drawing.workSheetId)
  if (!sheet?.column || !work?.column) return null
  const drawn = drawnLevel(mark.at, sheet.column)
  const placed = Math.max(0, drawn - tenths(PLACED_WITHIN_M))
  const measured = mark.measuredM === null ? null : tenths(mark.measuredM)
  const isMeasured = measured !== null && Math.abs(measured - drawn) <= 2
  const level = isMeasured ? measured : drawn
  const height = Math.abs(tenths(sheet.heightM) - tenths(work.heightM))
  const countedLevel = isMeasured ? measured : Math.min(placed, measured ?? placed)
  return {
    levelFt: toFt(level),
    heightFt: toFt(height),
    straightFt: toFt(Math.sqrt(level ** 2 + height ** 2)),
    countedFt: toFt(Math.max(countedLevel, height)),
    isMeasured,
  }
}

/** How far it may be at most: what an extinguisher that must be near is judged by. */
export function farthestFt(distance: DrawnDistance): number {
  return distance.straightFt + (distance.isMeasured ? 0 : PLACED_WITHIN_M / M_PER_FT)
}

/** The point so far from another, in the direction of a clock's hand seen from above (12 is up the sheet). */
export function pointToward(
  from: DrawnPoint,
  { distanceM, clock }: { distanceM: number; clock: number },
): DrawnPoint {
  const angle = (clock / 12) * 2 * Math.PI
  return onGrid({
    xM: from.xM + distanceM * Math.sin(angle),
    yM: from.yM - distanceM * Math.cos(angle),
  })
}

/** To a tenth of a millimetre, in which distances are compared. */
export function onGrid({ xM, yM }: DrawnPoint): DrawnPoint {
  return { xM: tenths(xM) / TENTH_MM_PER_M, yM: tenths(yM) / TENTH_MM_PER_M }
}

/**
 * The width of a sheet from one distance that is known on it, measured with the width assumed so far.
 * Null where the two points are one, from which no scale follows.
 */
export function widthFromKnown(input: {
  widthM: number
  from: DrawnPoint
  to: DrawnPoint
  knownM: number
}): number | null {
  const drawn = drawnLevel(input.from, input.to)
  if (drawn === 0 || !(input.knownM > 0)) return null
  return (input.widthM * tenths(input.knownM)) / drawn
}

/** The same sheet at another scale: everything on it stays where it is on the paper. */
export function rescaled(drawing: AreaDrawing, sheetId: string, widthM: number): AreaDrawing {
  const sheet = sheetOf(drawing, sheetId)
  if (!sheet) return drawing
  const by = widthM / sheet.widthM
  const moved = ({ xM, yM }: DrawnPoint) => onGrid({ xM: xM * by, yM: yM * by })
  return {
    ...drawing,
    sheets: drawing.sheets.map((one) =>
      one.id === sheetId
        ? {
            ...one,
            widthM,
            depthM: one.depthM * by,
            column: one.column ? moved(one.column) : null,
          }
        : one,
    ),
    marks: drawing.marks.map((one) =>
      one.sheetId === sheetId ? { ...one, at: moved(one.at), measuredM: null } : one,
    ),
  }
}

/**
 * What a new permit may take over from an older drawing of the same area: its levels, plans, scales,
 * openings and sprinkler heads. Nothing that can change: no work, nothing that burns, no extinguisher,
 * nobody's post, and no answer about an opening.
 */
export function standingPart(drawing: AreaDrawing): AreaDrawing {
  const stays = drawing.marks.flatMap((mark): DrawnMark[] => {
    const { id, sheetId, kind, at, label } = mark
    const base = { id, sheetId, kind, at, label, measuredM: null }
    if (mark.opening)
      return [{ ...base, opening: { kind: mark.opening.kind, exposes: null, canClose: false } }]
    return mark.head ? [{ ...base, head: { isReached: false } }] : []
  })
  return {
    ...drawing,
    sheets: drawing.sheets.map((sheet) => ({ ...sheet, column: null })),
    marks: stays,
  }
}

import type { AreaDrawing, DrawnMark, DrawnSheet } from '@/lib/permit/drawing'

const M_PER_FT = 0.3048
export const metres = (feet: number) => feet * M_PER_FT

/** A sheet of 200 by 200 ft with the work in its middle. */
export function sheet(id: string, heightFt = 0, more: Partial<DrawnSheet> = {}): DrawnSheet {
  const column = { xM: metres(100), yM: metres(100) }
  const [widthM, depthM] = [metres(200), metres(200)]
  return {
    id,
    name: id,
    heightM: metres(heightFt),
    widthM,
    depthM,
    column,
    pictureId: null,
    ...more,
  }
}

/** A mark so many feet to the right of the work, as a tape measured it. */
export function mark(
  kind: DrawnMark['kind'],
  feet: number,
  more: Partial<DrawnMark> = {},
): DrawnMark {
  const at = { xM: metres(100 + feet), yM: metres(100) }
  return { id: 'm', sheetId: 'deck', kind, at, label: kind, measuredM: metres(feet), ...more }
}

export const doorway = (feet: number, more: Partial<DrawnMark> = {}) =>
  mark('opening', feet, {
    opening: { kind: 'wall', exposes: true, canClose: false },
    ...more,
  })

export const pallets = (
  feet: number,
  burnable: Partial<NonNullable<DrawnMark['burnable']>> = {},
  more: Partial<DrawnMark> = {},
) =>
  mark('burnable', feet, { burnable: { state: 'stays', isEasilyLit: false, ...burnable }, ...more })

export const drawingOf = (
  marks: readonly DrawnMark[],
  sheets: readonly DrawnSheet[] = [sheet('deck')],
): AreaDrawing => ({
  workSheetId: 'deck',
  sheets,
  marks: marks.map((one, index) => ({ ...one, id: `m${index}` })),
})

import type { AreaDrawing } from '@/lib/permit/drawing'
import { writeRow } from '../records/scribe'
import { as, type PermitRun } from './permit-life'

const FT = 0.3048
const at = (xFt: number, yFt: number) => ({ xM: xFt * FT, yM: yFt * FT })

/** Deck 3 of the boiler house and the deck under its hatch. */
const DECK_3: AreaDrawing = {
  workSheetId: 'level-1',
  sheets: [
    {
      ...{ id: 'level-1', name: 'Deck 3', heightM: 0, widthM: 100 * FT, depthM: 100 * FT },
      ...{ column: at(46, 52), pictureId: null },
    },
    {
      ...{ id: 'level-2', name: 'Deck 2', heightM: -12 * FT, widthM: 100 * FT, depthM: 100 * FT },
      ...{ column: at(46, 52), pictureId: null },
    },
  ],
  marks: [
    {
      ...{ id: 'm1', sheetId: 'level-1', kind: 'opening', label: 'Hatch to deck 2' },
      ...{ at: at(58, 46), measuredM: null },
      opening: { kind: 'floor', exposes: true, canClose: false },
    },
    {
      ...{ id: 'm2', sheetId: 'level-1', kind: 'burnable', label: 'Pipe lagging, east wall' },
      ...{ at: at(68, 52), measuredM: 22 * FT },
      burnable: { state: 'covered', isEasilyLit: false },
    },
    {
      ...{ id: 'm3', sheetId: 'level-1', kind: 'opening', label: 'Doorway, stair B' },
      ...{ at: at(46, 87), measuredM: 35 * FT },
      opening: { kind: 'wall', exposes: true, canClose: false },
    },
    {
      ...{ id: 'm4', sheetId: 'level-1', kind: 'extinguisher', label: 'Extinguisher' },
      ...{ at: at(36, 60), measuredM: null },
      extinguisher: { ratingA: 4, ratingB: 60 },
    },
    {
      ...{ id: 'm5', sheetId: 'level-1', kind: 'sprinkler_head', label: 'Head over the work' },
      ...{ at: at(46, 44), measuredM: null },
      head: { isReached: true },
    },
    {
      ...{ id: 'm6', sheetId: 'level-1', kind: 'watch_post', label: 'Deck 3' },
      ...{ at: at(30, 40), measuredM: null },
    },
    {
      ...{ id: 'm7', sheetId: 'level-2', kind: 'burnable', label: 'Rags under the hatch' },
      ...{ at: at(60, 48), measuredM: null },
      burnable: { state: 'stays', isEasilyLit: true },
    },
  ],
}

export function drawDeck3(run: PermitRun, atMs: number): void {
  const { world, sheet } = run
  const doing = as(run, 'foreman', atMs)
  writeRow(world.scribe, doing, 'permit:clear', 'area_drawings', {
    id: world.scribe.newId(atMs),
    site_id: sheet.siteId,
    permit_id: sheet.id,
    drawing: { json: DECK_3 },
    person_id: doing.personId,
    role_then: doing.role,
  })
}

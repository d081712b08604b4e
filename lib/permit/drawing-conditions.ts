import type { Conditions } from '../rules/conditions'
import { evaluate } from '../rules/evaluate'
import { joinEvaluations } from '../rules/join'
import type { Evaluation, Layer } from '../rules/types'
import type { AreaDrawing, BurnableState, DrawnMark } from './drawing'
import { distanceTo, farthestFt } from './drawing'
import { exposes, levelsWithoutPost } from './drawing-findings'

type Patch = Partial<Conditions>

const STATES: Readonly<Record<BurnableState, Conditions['combustibleState']>> = {
  movable: 'movable',
  covered: 'covered',
  // Nobody moved or covered it, so it is read as standing open.
  stays: 'unprotected_open',
  unprotectable: 'unprotectable',
}
const NEAR_FT = 35
const FIFTEEN_METRES_FT = 15 / 0.3048

/** Whatever the drawing can't tell the distance of counts as at the work. */
const countedFt = (drawing: AreaDrawing, mark: DrawnMark) =>
  distanceTo(drawing, mark)?.countedFt ?? 0

/** Lines of the rules change their answer at these distances only, so one thing of a kind in each span serves. */
const spanOf = (distanceFt: number) =>
  [distanceFt < NEAR_FT, distanceFt === NEAR_FT, distanceFt <= FIFTEEN_METRES_FT].indexOf(true)

function burnablePatch(drawing: AreaDrawing, mark: DrawnMark): [string, Patch][] {
  if (!mark.burnable) return []
  const distanceFt = countedFt(drawing, mark)
  const { state, isEasilyLit } = mark.burnable
  // On the other side of a floor or deck sparks and heat reach it too.
  const isBeyond = mark.sheetId !== drawing.workSheetId && distanceFt <= NEAR_FT
  const patch: Patch = {
    combustibleState: STATES[state],
    nearestCombustibleFt: distanceFt,
    easilyIgnitedBySparks: isEasilyLit,
    ...(isBeyond ? { farSideCombustibles: state === 'movable' ? 'relocated' : 'in_place' } : {}),
  }
  return [[[state, isEasilyLit, isBeyond, spanOf(distanceFt)].join(' '), patch]]
}

function burnablePatches(drawing: AreaDrawing): Patch[] {
  const all = drawing.marks.flatMap((mark) => burnablePatch(drawing, mark))
  return [...new Map(all).values()]
}

function openingPatch(drawing: AreaDrawing, c: Conditions): Patch {
  const drawn = drawing.marks.flatMap((mark) =>
    mark.opening
      ? [
          {
            kind: mark.opening.kind,
            distanceFt: countedFt(drawing, mark),
            exposesCombustible: exposes(drawing, mark),
            canClose: mark.opening.canClose,
          },
        ]
      : [],
  )
  return drawn.length > 0 ? { openings: [...c.openings, ...drawn] } : {}
}

function extinguisherPatch(drawing: AreaDrawing): Patch {
  const drawn = drawing.marks.flatMap((mark) => {
    const distance = distanceTo(drawing, mark)
    if (!mark.extinguisher || !distance) return []
    return [{ ...mark.extinguisher, distanceFt: farthestFt(distance) }]
  })
  const serves = drawn.some((one) => one.ratingA >= 2 && one.ratingB >= 20 && one.distanceFt <= 30)
  const [nearest] = drawn.toSorted((a, b) => a.distanceFt - b.distanceFt)
  return nearest && !serves ? { extinguisher: nearest } : {}
}

/** What holds of the place as a whole, whichever thing in it is looked at. */
function placePatch(drawing: AreaDrawing, c: Conditions): Patch {
  const isHeadReached = drawing.marks.some((mark) => mark.head?.isReached)
  const hasSystem = c.sprinklerSystem !== 'none'
  return {
    ...extinguisherPatch(drawing),
    ...(isHeadReached ? { sprinklerHeadNear: true } : {}),
    // Where heads are drawn there is a system, whatever the area's standing facts say.
    ...(isHeadReached && !hasSystem ? { sprinklerSystem: 'in_service' } : {}),
    ...(levelsWithoutPost(drawing).length > 0 ? { allExposuresVisibleToOneWatcher: false } : {}),
  }
}

/** Each thing drawn, as what it changes in the conditions that the answers describe. */
export function drawingPatches(drawing: AreaDrawing, c: Conditions): Patch[] {
  const place = placePatch(drawing, c)
  const openings = openingPatch(drawing, c)
  const things = [{ ...openings }, ...burnablePatches(drawing)]
  return things.map((thing) => ({ ...place, ...thing })).filter(changesSomething)
}

const changesSomething = (patch: Patch) => Object.keys(patch).length > 0

/**
 * What the rules ask of an area that was answered for and drawn: the answers' own evaluation and that
 * of each thing drawn, joined to the strictest. So a drawing adds precautions and never takes one away.
 */
export function evaluateDrawn(
  layers: readonly Layer[],
  c: Conditions,
  drawing: AreaDrawing | null,
): Evaluation {
  const patches = drawing ? drawingPatches(drawing, c) : []
  return joinEvaluations(layers, [
    evaluate(layers, c),
    ...patches.map((patch) => evaluate(layers, { ...c, ...patch })),
  ])
}

import { applyExtras, type CutRuns, fillShape, runOfPart } from './cut-runs'
import type { CutInput, CutShape, CutTask, OwnSettings } from './estimate-types'
import { coatingRefusal, type Material, materialOf, materialRefusal } from './materials'
import type { Refusal } from './refusal'
import { isSectionFamily, sectionNames } from './sections/named-section'

export const MAX_BEVEL_DEG = 60
const MOST_CUTS_ALIKE = 100_000
const MOST_PLATES = 100
const MOST_RESTARTS = 1000
/** No measure of a cut is longer than this; it keeps slips of the keyboard from becoming infinite gas. */
const LONGEST_M = 10_000

/** Where refusals of one cut go; built once for a list. */
export type CutCheck = {
  chartMaterials: readonly string[]
  /** The metal of the list that was looked up last, and whether the chart is for it. */
  material: string
  metal: Material | undefined
  isOfChart: boolean
  minPathM: number
  maxPathM: number
  refusals: Refusal[]
  /** Place in the list of the cut that is being checked. */
  index: number
}

type At = CutCheck

function refuseAt(at: At, name: string, refusal: Omit<Refusal, 'field'>): false {
  at.refusals.push({ ...refusal, field: `cuts.${at.index}.${name}` })
  return false
}

/** Adds a refusal unless min <= value <= max; `above` makes min exclusive. Undefined is not asked. */
function within(
  at: At,
  name: string,
  value: number | undefined,
  min: number,
  max: number,
  unit: string,
  above = false,
): boolean {
  if (value === undefined || (value <= max && (above ? value > min : value >= min))) return true
  const low = above ? { above: min } : { min }
  const limit = unit === '' ? { ...low, max } : { ...low, max, unit }
  return refuseAt(at, name, {
    code: 'OUT_OF_RANGE',
    value: Number.isFinite(value) ? value : null,
    limit,
  })
}

function whole(at: At, name: string, value: number | undefined, min: number, max: number): boolean {
  if (value === undefined || Number.isInteger(value)) return within(at, name, value, min, max, '')
  return refuseAt(at, name, {
    code: 'OUT_OF_RANGE',
    value: Number.isFinite(value) ? value : null,
    limit: { min, max },
  })
}

const measure = (at: At, name: string, value: number | undefined) =>
  within(at, name, value, 0, LONGEST_M, 'm', true)

/**
 * Checks one cut against the chart in use and fills its runs: the one gate before any number.
 *
 * @param cut as entered; index in its list, for the fields of refusals
 * @param check what the chart is for, and where refusals are added
 * @param runs filled when the answer is true
 * @returns true when the cut can be estimated; false when at least one refusal was added
 */
export function prepareCut(cut: CutInput, index: number, check: CutCheck, runs: CutRuns): boolean {
  const at = check
  at.index = index
  const before = check.refusals.length
  if (at.material !== cut.material) lookUpMetal(cut.material, at)
  runs.metal = at.metal
  if (!at.isOfChart || cut.coating !== undefined) checkMetal(cut, at)
  whole(at, 'count', cut.count, 1, MOST_CUTS_ALIKE)
  whole(at, 'doneCount', cut.doneCount, 0, cut.count)
  within(at, 'bevelDeg', cut.bevelDeg, 0, MAX_BEVEL_DEG, 'deg')
  within(at, 'miterDeg', cut.miterDeg, 0, MAX_BEVEL_DEG, 'deg')
  within(at, 'restarts', cut.restarts, 0, MOST_RESTARTS, '')
  checkPiece(cut, at)
  const hasShape =
    checkShape(cut.shape, at) && (fillShape(cut.shape, runs) || unknownName(cut.shape, at))
  if (hasShape) {
    checkFit(cut, at)
    if (cut.task && check.refusals.length === before) checkTask(cut.task, cut.shape, runs, at)
  }
  checkOwn(cut.own, hasShape && runs.isArea, at)
  if (check.refusals.length > before) return false
  applyExtras(cut, runs)
  return cut.own !== undefined || checkPaths(cut, runs, at)
}

/** A list is mostly of one metal, which is then looked up once. */
function lookUpMetal(material: string, at: At): void {
  at.material = material
  at.metal = materialOf(material)
  at.isOfChart = at.chartMaterials.includes(material)
}

function checkMetal(cut: CutInput, at: At): void {
  const { chartMaterials, refusals } = at
  if (!at.isOfChart) {
    const refusal = materialRefusal({
      material: cut.material,
      field: `cuts.${at.index}.material`,
      chartMaterials,
      hasOwnSettings: cut.own !== undefined,
    })
    if (refusal) refusals.push(refusal)
  }
  if (cut.coating === undefined || cut.coating === 'none') return
  const refusal = coatingRefusal(cut.coating, `cuts.${at.index}.coating`)
  if (refusal) refusals.push(refusal)
}

function checkPiece({ piece }: CutInput, at: At): void {
  if (!piece) return
  if ('lengthM' in piece) measure(at, 'piece.lengthM', piece.lengthM)
  else within(at, 'piece.areaM2', piece.areaM2, 0, LONGEST_M ** 2, 'm2', true)
}

function checkShape(shape: CutShape, at: At): boolean {
  switch (shape.kind) {
    case 'plate': {
      const isThick = measure(at, 'shape.thicknessM', shape.thicknessM)
      return measure(at, 'shape.lengthM', shape.lengthM) && isThick
    }
    case 'flatBar': {
      const isThick = measure(at, 'shape.thicknessM', shape.thicknessM)
      return measure(at, 'shape.widthM', shape.widthM) && isThick
    }
    case 'squareBar':
      return measure(at, 'shape.sideM', shape.sideM)
    case 'roundBar':
      return measure(at, 'shape.diameterM', shape.diameterM)
    case 'pipe': {
      const isRound = measure(at, 'shape.outsideDiameterM', shape.outsideDiameterM)
      const isWalled = measure(at, 'shape.wallM', shape.wallM)
      if (!isRound || !isWalled) return false
      return within(at, 'shape.wallM', shape.wallM, 0, shape.outsideDiameterM / 2, 'm')
    }
    case 'rivetHead':
    case 'boltHead':
      return measure(at, 'shape.shankDiameterM', shape.shankDiameterM)
    case 'gouge':
    case 'washOff': {
      const isDeep = measure(at, 'shape.depthM', shape.depthM)
      return within(at, 'shape.areaM2', shape.areaM2, 0, LONGEST_M ** 2, 'm2', true) && isDeep
    }
    default:
      return true // a section, which `fillShape` finds by its name or not
  }
}

/** Refuses a shape that `fillShape` doesn't know. */
function unknownName(shape: CutShape, at: At): false {
  const { kind } = shape
  if (!isSectionFamily(kind)) {
    return refuseAt(at, 'shape.kind', { code: 'UNKNOWN_SECTION', value: kind, limit: null })
  }
  const designation = 'designation' in shape ? shape.designation : null
  return refuseAt(at, 'shape.designation', {
    code: 'UNKNOWN_SECTION',
    value: designation,
    limit: { allowed: sectionNames(kind) },
  })
}

const STACKED = ['plate', 'flatBar']
const FLANGED = ['wShape', 'sShape', 'channel']
const WITH_FACES = ['plate', 'flatBar', 'pipe', ...FLANGED, 'angle', 'hss', 'pipeSize']
const SEVERED = [...WITH_FACES.slice(1), 'squareBar', 'roundBar', 'rebar']

function notFor(at: At, name: string, value: string | number, allowed: readonly string[]): void {
  refuseAt(at, name, { code: 'NOT_FOR_SHAPE', value, limit: { allowed } })
}

/** What goes with which shape. */
function checkFit(cut: CutInput, at: At): void {
  const { kind } = cut.shape
  if (cut.stackPlates !== undefined && cut.stackPlates !== 1) {
    if (STACKED.includes(kind)) whole(at, 'stackPlates', cut.stackPlates, 1, MOST_PLATES)
    else notFor(at, 'stackPlates', cut.stackPlates, STACKED)
  }
  if (cut.miterDeg && (cut.task !== undefined || !SEVERED.includes(kind)))
    notFor(at, 'miterDeg', cut.miterDeg, SEVERED)
  if (cut.task) checkTaskFits(cut.task, cut, at)
}

function checkTaskFits(task: CutTask, cut: CutInput, at: At): void {
  const { kind } = cut.shape
  const allowed = task.kind === 'cope' ? FLANGED : WITH_FACES
  if (!allowed.includes(kind)) notFor(at, 'task.kind', task.kind, allowed)
  if (task.kind === 'bevel' && cut.bevelDeg) notFor(at, 'bevelDeg', cut.bevelDeg, [])
  const part = task.kind === 'hole' || task.kind === 'notch' ? task.part : undefined
  if (part && !FLANGED.includes(kind)) notFor(at, 'task.part', part, FLANGED)
}

/** Measures of a task; what is cut out of a run is no larger than the run, but for plate and pipe. */
function checkTask(task: CutTask, shape: CutShape, runs: CutRuns, at: At): void {
  if (task.kind === 'bevel') {
    within(at, 'task.angleDeg', task.angleDeg, 0, MAX_BEVEL_DEG, 'deg', true)
    const thinnestM = Math.min(...runs.thicknessM.subarray(0, runs.n))
    within(at, 'task.landM', task.landM, 0, thinnestM * 0.95, 'm')
    return
  }
  if (task.kind === 'cope') {
    measure(at, 'task.lengthM', task.lengthM)
    const flangeM = runs.thicknessM[0] as number
    const mostM = (runs.lengthM[1] as number) + flangeM
    within(at, 'task.depthM', task.depthM, flangeM, mostM, 'm')
    return
  }
  const runM = runs.lengthM[runOfPart(runs, task.part)] as number
  const mostM = shape.kind === 'plate' ? LONGEST_M : runs.isClosed ? runM / Math.PI : runM
  if (task.kind === 'hole') {
    within(at, 'task.diameterM', task.diameterM, 0, mostM, 'm', true)
    return
  }
  measure(at, 'task.lengthM', task.lengthM)
  within(at, 'task.depthM', task.depthM, 0, mostM, 'm', true)
}

function checkOwn(own: OwnSettings | undefined, isArea: boolean, at: At): void {
  const rate = isArea ? own?.areaM2PerS : own?.speedMPerS
  if (!own) {
    if (isArea) refuseAt(at, 'own', { code: 'OWN_SETTINGS_NEEDED', value: null, limit: null })
    return
  }
  within(at, 'own.cuttingOxygenM3PerS', own.cuttingOxygenM3PerS, 0, 1, 'm3/s', true)
  within(at, 'own.fuelM3PerS', own.fuelM3PerS, 0, 1, 'm3/s')
  const name = isArea ? 'own.areaM2PerS' : 'own.speedMPerS'
  if (rate === undefined)
    refuseAt(at, name, { code: 'OWN_SETTINGS_NEEDED', value: null, limit: null })
  within(at, name, rate, 1e-7, 10, isArea ? 'm2/s' : 'm/s')
}

/** Field that a thickness outside the chart is reported on. */
function thicknessField(shape: CutShape): string {
  if ('thicknessM' in shape) return 'shape.thicknessM'
  if ('wallM' in shape) return 'shape.wallM'
  if ('sideM' in shape) return 'shape.sideM'
  if ('diameterM' in shape) return 'shape.diameterM'
  return 'shankDiameterM' in shape ? 'shape.shankDiameterM' : 'shape.designation'
}

function checkPaths(cut: CutInput, runs: CutRuns, at: At): boolean {
  const { minPathM, maxPathM } = at
  let isInside = true
  for (let i = 0; i < runs.n; i += 1) {
    const pathM = runs.pathM[i] as number
    if (pathM >= minPathM * (1 - 1e-9) && pathM <= maxPathM * (1 + 1e-9)) continue
    isInside = false
    refuseAt(at, thicknessField(cut.shape), {
      code: 'OUTSIDE_TABLE',
      value: pathM,
      limit: { min: minPathM, max: maxPathM, unit: 'm' },
    })
  }
  return isInside
}

import type { CutInput, CutShape, CutTask } from './estimate-types'
import type { Material } from './materials'
import {
  isSectionFamily,
  type NamedSection,
  namedSection,
  ROUND_SHARE,
  type SectionPart,
} from './sections/named-section'

/** Button head over shank, ANSI B18.1.2, and corners of a heavy hex head over shank: both from memory. */
const HEAD_OVER_SHANK = 1.75
/** Runs of a cut at most. */
const MOST_RUNS = 2
const RADIANS = Math.PI / 180

/** A cut as runs of metal of one thickness. One buffer is filled over and over. */
export type CutRuns = {
  n: number
  part: SectionPart[]
  count: Float64Array
  /** Of one run; an area for a gouge or wash-off. */
  lengthM: Float64Array
  thicknessM: Float64Array
  /** Along the jet. */
  pathM: Float64Array
  plane: Uint8Array
  /** Of the steel section; NaN for plate, which has an area, and for what is no section. */
  kgPerM: number
  /** Taken off by a task from one plate; NaN when severed. */
  removedM3: number
  isClosed: boolean
  isArea: boolean
  section: NamedSection | null
  /** What is cut, where it was checked. */
  metal: Material | undefined
}

/** A buffer for `fillRuns`. */
export function emptyRuns(): CutRuns {
  return {
    n: 0,
    part: ['plate', 'plate'],
    count: new Float64Array(MOST_RUNS),
    lengthM: new Float64Array(MOST_RUNS),
    thicknessM: new Float64Array(MOST_RUNS),
    pathM: new Float64Array(MOST_RUNS),
    plane: new Uint8Array(MOST_RUNS),
    kgPerM: Number.NaN,
    removedM3: Number.NaN,
    isClosed: false,
    isArea: false,
    section: null,
    metal: undefined,
  }
}

/**
 * Decomposes a cut into runs of one thickness each, with the torch's tilt, the mitre, the stack and the task.
 *
 * Round bar: as long as its area cut at full depth. Pipe: developed length on the mean circle, or ellipse.
 * Beams and channels: flanges, and the web between them, each at its own thickness. A mitre lengthens the runs
 * that its line is drawn on, and the path through the others. Heads: a round bar of the head's diameter.
 *
 * @param cut with finite, positive measures; `prepareCut` checks
 * @param runs the buffer
 * @returns false when a section's name is not in its table; every measure in metres
 * @source geometry; sections from memory (`namedSection`)
 */
export function fillRuns(cut: CutInput, runs: CutRuns): boolean {
  if (!fillShape(cut.shape, runs)) return false
  applyExtras(cut, runs)
  return true
}

/** What tilt, mitre, stack and task make of a shape that is filled. */
export function applyExtras(cut: CutInput, runs: CutRuns): void {
  const { task, bevelDeg = 0, stackPlates = 1 } = cut
  if (task) applyTask(task, runs)
  else if (cut.miterDeg) applyMiter(cut.miterDeg, cut.miterOn === 'flange' ? 0 : 1, runs)
  const stretch = (bevelDeg === 0 ? 1 : 1 / Math.cos(bevelDeg * RADIANS)) * stackPlates
  if (stretch !== 1)
    for (let i = 0; i < runs.n; i += 1) runs.pathM[i] = (runs.pathM[i] as number) * stretch
}

function only(runs: CutRuns, part: SectionPart, lengthM: number, thicknessM: number): void {
  runs.n = 1
  runs.part[0] = part
  runs.count[0] = 1
  runs.lengthM[0] = lengthM
  runs.thicknessM[0] = thicknessM
  runs.pathM[0] = thicknessM
  runs.plane[0] = 0
}

/** The shape as it is, square through; false when a section's name is not in its table. */
export function fillShape(shape: CutShape, runs: CutRuns): boolean {
  runs.section = null
  runs.removedM3 = Number.NaN
  runs.kgPerM = Number.NaN
  runs.isClosed = false
  runs.isArea = false
  switch (shape.kind) {
    case 'plate':
      only(runs, 'plate', shape.lengthM, shape.thicknessM)
      return true
    case 'flatBar':
      only(runs, 'bar', shape.widthM, shape.thicknessM)
      runs.kgPerM = steel(shape.widthM * shape.thicknessM)
      return true
    case 'squareBar':
      only(runs, 'bar', shape.sideM, shape.sideM)
      runs.kgPerM = steel(shape.sideM ** 2)
      return true
    case 'roundBar':
      only(runs, 'bar', ROUND_SHARE * shape.diameterM, shape.diameterM)
      runs.kgPerM = steel(ROUND_SHARE * shape.diameterM ** 2)
      return true
    case 'pipe': {
      const meanCircleM = Math.PI * (shape.outsideDiameterM - shape.wallM)
      only(runs, 'wall', meanCircleM, shape.wallM)
      runs.kgPerM = steel(meanCircleM * shape.wallM)
      runs.isClosed = true
      return true
    }
    case 'rivetHead':
    case 'boltHead': {
      const headM = HEAD_OVER_SHANK * shape.shankDiameterM
      only(runs, 'head', ROUND_SHARE * headM, headM)
      return true
    }
    case 'gouge':
    case 'washOff':
      only(runs, 'surface', shape.areaM2, shape.depthM)
      runs.isArea = true
      return true
    default: {
      const section = isSectionFamily(shape.kind)
        ? namedSection(shape.kind, shape.designation)
        : undefined
      return section ? fillSection(section, runs) : false
    }
  }
}

export const STEEL_KG_PER_M3 = 7850
const steel = (areaM2: number) => areaM2 * STEEL_KG_PER_M3

function fillSection(section: NamedSection, runs: CutRuns): boolean {
  let n = 0
  for (const run of section.runs) {
    runs.part[n] = run.part
    runs.count[n] = run.count
    runs.lengthM[n] = run.lengthM
    runs.thicknessM[n] = run.thicknessM
    runs.pathM[n] = run.thicknessM
    runs.plane[n] = run.plane
    n += 1
  }
  runs.n = n
  runs.kgPerM = section.kgPerM
  runs.isClosed = section.isClosed
  runs.section = section
  return true
}

function applyMiter(miterDeg: number, plane: 0 | 1, runs: CutRuns): void {
  const stretch = 1 / Math.cos(miterDeg * RADIANS)
  if (runs.n === 1) {
    runs.lengthM[0] =
      runs.part[0] === 'wall'
        ? ellipseM((runs.lengthM[0] as number) / Math.PI, stretch)
        : (runs.lengthM[0] as number) * stretch
    return
  }
  for (let i = 0; i < runs.n; i += 1) {
    if (runs.plane[i] === plane) runs.lengthM[i] = (runs.lengthM[i] as number) * stretch
    else runs.pathM[i] = (runs.pathM[i] as number) * stretch
  }
}

/** Around an ellipse. @source Ramanujan 1914, second approximation; exact to 1e-4 up to an axis ratio of 2. */
function ellipseM(diameterM: number, stretch: number): number {
  const [a, b] = [(diameterM / 2) * stretch, diameterM / 2]
  const h = ((a - b) / (a + b)) ** 2
  return Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)))
}

function applyTask(task: CutTask, runs: CutRuns): void {
  if (task.kind === 'bevel') {
    applyBevel(task.angleDeg, task.landM ?? 0, runs)
    return
  }
  if (task.kind === 'cope') {
    applyCope(task.lengthM, task.depthM, runs)
    return
  }
  const at = runOfPart(runs, task.part)
  const part = runs.part[at] as SectionPart
  const thicknessM = runs.thicknessM[at] as number
  if (task.kind === 'hole') {
    only(runs, part, Math.PI * task.diameterM, thicknessM)
    runs.removedM3 = (Math.PI / 4) * task.diameterM ** 2 * thicknessM
    runs.isClosed = true
    return
  }
  only(runs, part, task.lengthM + 2 * task.depthM, thicknessM)
  runs.removedM3 = task.lengthM * task.depthM * thicknessM
  runs.isClosed = false
}

/** The web unless the flange is named; the only run of a plate or pipe. */
export function runOfPart(runs: CutRuns, part: 'flange' | 'web' | undefined): number {
  return runs.n === 1 || part === 'flange' ? 0 : 1
}

/** Along the web and up through it to the flange, then across the flange. */
function applyCope(lengthM: number, depthM: number, runs: CutRuns): void {
  const flangeM2 = (runs.lengthM[0] as number) * (runs.thicknessM[0] as number)
  const underFlangeM = depthM - (runs.thicknessM[0] as number)
  runs.count[0] = 1
  runs.lengthM[1] = lengthM + underFlangeM
  runs.removedM3 = lengthM * (flangeM2 + underFlangeM * (runs.thicknessM[1] as number))
}

function applyBevel(angleDeg: number, landM: number, runs: CutRuns): void {
  const angle = angleDeg * RADIANS
  let removedM3 = 0
  for (let i = 0; i < runs.n; i += 1) {
    const depthM = (runs.thicknessM[i] as number) - landM
    runs.pathM[i] = depthM / Math.cos(angle)
    removedM3 +=
      (runs.count[i] as number) * (runs.lengthM[i] as number) * 0.5 * depthM ** 2 * Math.tan(angle)
  }
  runs.removedM3 = removedM3
  runs.isClosed = false
}

/**
 * Mass of what one cut brings down.
 *
 * @param cut with its piece, or with a task that takes metal off
 * @param runs filled for this cut
 * @param densityKgPerM3 of the metal
 * @returns kg; NaN when nothing was said of the piece, or it does not go with the shape
 */
export function pieceKgOf(cut: CutInput, runs: CutRuns, densityKgPerM3: number): number {
  const { piece, stackPlates = 1 } = cut
  if (!piece) return runs.removedM3 * densityKgPerM3 * stackPlates
  if ('lengthM' in piece)
    return runs.kgPerM * piece.lengthM * (densityKgPerM3 / STEEL_KG_PER_M3) * stackPlates
  if (cut.shape.kind !== 'plate') return Number.NaN
  return piece.areaM2 * cut.shape.thicknessM * densityKgPerM3 * stackPlates
}

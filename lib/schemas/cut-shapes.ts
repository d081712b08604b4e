import type { CutShape, CutTask } from '../calc/estimate-types'
import type { SectionFamily } from '../calc/sections/named-section'

export const CUT_SHAPES = [
  'plate',
  'flat_bar',
  'square_bar',
  'round_bar',
  'rebar',
  'pipe',
  'pipe_size',
  'angle',
  'channel',
  'w_shape',
  's_shape',
  'hss',
  'rivet_head',
  'bolt_head',
  'gouge',
  'wash_off',
] as const
export type CutShapeCode = (typeof CUT_SHAPES)[number]

export const CUT_TASKS = ['sever', 'hole', 'notch', 'cope', 'bevel'] as const
export type CutTaskCode = (typeof CUT_TASKS)[number]

/** Boxes of a measure, and the unit that each is typed in. */
export const MEASURE_BOXES = {
  thickness: 'small',
  length: 'long',
  width: 'small',
  side: 'small',
  diameter: 'small',
  outside: 'small',
  wall: 'small',
  shank: 'small',
  area: 'area',
  depth: 'small',
  along: 'small',
  into: 'small',
  land: 'small',
  pieceLength: 'long',
  pieceArea: 'area',
  pieceWeight: 'mass',
  ownOxygen: 'flow',
  ownFuel: 'flow',
  ownSpeed: 'speed',
  ownArea: 'areaRate',
} as const
export type MeasureBox = keyof typeof MEASURE_BOXES
export type MeasureKind = (typeof MEASURE_BOXES)[MeasureBox]

type CutBox =
  | MeasureBox
  | 'designation'
  | 'task'
  | 'part'
  | 'bevel'
  | 'miter'
  | 'stack'
  | 'start'
  | 'restarts'

type ShapeRow = Readonly<{
  kind: CutShape['kind']
  /** Where its section is found by name. */
  family: SectionFamily | null
  /** Of the section itself. */
  measures: readonly MeasureBox[]
  tasks: readonly CutTaskCode[]
  /** Two runs of metal, so that a hole or a mitre is on one of them. */
  parts: 'none' | 'miter' | 'all'
  piece: 'pieceLength' | 'pieceArea' | null
  mayStack: boolean
}>

const WITH_FACES: readonly CutTaskCode[] = ['sever', 'hole', 'notch', 'bevel']
const SEVERED: readonly CutTaskCode[] = ['sever']

const measured = (
  kind: CutShape['kind'],
  measures: readonly MeasureBox[],
  tasks: readonly CutTaskCode[] = SEVERED,
): ShapeRow => ({
  kind,
  family: null,
  measures,
  tasks,
  parts: 'none',
  piece: 'pieceLength',
  mayStack: false,
})
const named = (
  family: SectionFamily,
  tasks: readonly CutTaskCode[],
  parts: ShapeRow['parts'],
): ShapeRow => ({ ...measured(family, [], tasks), family, parts })
const flanged = (family: SectionFamily) => named(family, CUT_TASKS, 'all')
const taken = (kind: CutShape['kind'], measures: readonly MeasureBox[]): ShapeRow => ({
  ...measured(kind, measures, []),
  piece: null,
})

/** What each shape is called in lib/calc, what is asked about it, and what may be done to it. */
export const SHAPES: Readonly<Record<CutShapeCode, ShapeRow>> = {
  plate: {
    ...measured('plate', ['thickness', 'length'], WITH_FACES),
    piece: 'pieceArea',
    mayStack: true,
  },
  flat_bar: { ...measured('flatBar', ['thickness', 'width'], WITH_FACES), mayStack: true },
  square_bar: measured('squareBar', ['side']),
  round_bar: measured('roundBar', ['diameter']),
  rebar: named('rebar', SEVERED, 'none'),
  pipe: measured('pipe', ['outside', 'wall'], WITH_FACES),
  pipe_size: named('pipeSize', WITH_FACES, 'none'),
  angle: named('angle', WITH_FACES, 'miter'),
  channel: flanged('channel'),
  w_shape: flanged('wShape'),
  s_shape: flanged('sShape'),
  hss: named('hss', WITH_FACES, 'miter'),
  rivet_head: taken('rivetHead', ['shank']),
  bolt_head: taken('boltHead', ['shank']),
  gouge: taken('gouge', ['area', 'depth']),
  wash_off: taken('washOff', ['area', 'depth']),
}

const CODE_OF_KIND: ReadonlyMap<CutShape['kind'], CutShapeCode> = new Map(
  CUT_SHAPES.map((code) => [SHAPES[code].kind, code]),
)
export const codeOfKind = (kind: CutShape['kind']): CutShapeCode =>
  CODE_OF_KIND.get(kind) ?? 'plate'

const TASK_BOXES: Readonly<Record<CutTask['kind'], readonly CutBox[]>> = {
  hole: ['along', 'bevel'],
  notch: ['along', 'into', 'bevel'],
  cope: ['along', 'into', 'bevel'],
  bevel: ['bevel', 'land'],
}

/** The task in force: a shape that can't have the one that is asked for is cut through. */
export const taskOf = (shape: CutShapeCode, asked: string | undefined): CutTaskCode =>
  SHAPES[shape].tasks.find((task) => task === asked) ?? 'sever'

const isRemoved = (shape: CutShapeCode) => SHAPES[shape].tasks.length === 0
/** Gouged or washed off: by area, and only by the user's own gas and rate. */
export const isByArea = (shape: CutShapeCode): boolean => SHAPES[shape].measures.includes('area')

function partBoxes(shape: CutShapeCode, task: CutTaskCode): readonly CutBox[] {
  const { parts, tasks } = SHAPES[shape]
  if (task === 'sever' && tasks.length > 0 && shape !== 'plate')
    return parts === 'none' ? ['miter'] : ['miter', 'part']
  return parts === 'all' && (task === 'hole' || task === 'notch') ? ['part'] : []
}

/**
 * The boxes that a cut of this shape and task is asked for.
 *
 * @param asked the task as chosen; one that the shape can't have is none
 */
export function boxesOfCut(shape: CutShapeCode, asked?: string): ReadonlySet<CutBox> {
  const { measures, family, tasks, piece, mayStack } = SHAPES[shape]
  const task = taskOf(shape, asked)
  const isArea = isByArea(shape)
  return new Set<CutBox>([
    ...(family ? (['designation'] as const) : []),
    ...measures,
    ...(tasks.length > 1 ? (['task'] as const) : []),
    ...(task === 'sever' ? [] : TASK_BOXES[task]),
    ...(task === 'sever' && !isRemoved(shape) ? (['bevel'] as const) : []),
    ...partBoxes(shape, task),
    ...(mayStack ? (['stack'] as const) : []),
    ...(isArea ? [] : (['start', 'restarts'] as const)),
    ...(piece && task === 'sever' ? [piece] : []),
    ...(isArea ? [] : (['pieceWeight'] as const)),
    'ownOxygen',
    'ownFuel',
    isArea ? 'ownArea' : 'ownSpeed',
  ])
}

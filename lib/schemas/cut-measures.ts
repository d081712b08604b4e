import { z } from 'zod'
import { isSectionFamily, namedSection, sectionNameOf } from '../calc/sections/named-section'
import { convert, type Unit } from '../calc/units'
import {
  CUT_CONDITIONS,
  type CutDims,
  cutDimsSchema,
  MOST_RESTARTS,
  MOST_STACKED,
} from './cut-dims'
import {
  boxesOfCut,
  CUT_SHAPES,
  type CutShapeCode,
  type CutTaskCode,
  isByArea,
  MEASURE_BOXES,
  type MeasureBox,
  type MeasureKind,
  SHAPES,
  taskOf,
} from './cut-shapes'
import { emptyIsAbsent, ticked, typedNumber } from './measure'

/** Units that a box of each kind may be typed in; the first is what lib/calc takes. */
export const UNITS_OF_KIND = {
  small: ['m', 'in', 'mm', 'ft'],
  long: ['m', 'ft', 'in', 'mm'],
  area: ['m2', 'ft2'],
  mass: ['kg', 'lb'],
  flow: ['m3/s', 'ft3/h', 'm3/h'],
  speed: ['m/s', 'in/min', 'mm/min'],
  areaRate: ['m2/s', 'ft2/h', 'm2/h'],
} as const satisfies Record<MeasureKind, readonly Unit[]>

const text = z.string().optional()
const textsOf = <N extends string>(names: readonly N[]) =>
  Object.fromEntries(names.map((name) => [name, text])) as Record<N, typeof text>
const MEASURE_NAMES = Object.keys(MEASURE_BOXES) as MeasureBox[]
const NUMBERS = ['bevel', 'miter', 'stack', 'restarts'] as const

const typedMeasures = z.object({
  shape: z.enum(CUT_SHAPES, 'CHOOSE_ONE'),
  designation: text,
  task: text,
  part: emptyIsAbsent(z.enum(['web', 'flange'], 'CHOOSE_ONE')),
  start: emptyIsAbsent(z.enum(['edge', 'inside'], 'CHOOSE_ONE')),
  ...textsOf(NUMBERS),
  ...textsOf(MEASURE_NAMES),
  ...textsOf(MEASURE_NAMES.map((name) => `${name}Unit` as const)),
  ...(Object.fromEntries(CUT_CONDITIONS.map((name) => [name, ticked])) as Record<
    (typeof CUT_CONDITIONS)[number],
    typeof ticked
  >),
})
type Typed = z.output<typeof typedMeasures>

type Asked = Readonly<{
  typed: Typed
  shape: CutShapeCode
  task: CutTaskCode
  boxes: ReturnType<typeof boxesOfCut>
  wrong: (box: string, code: string) => undefined
}>

const isTyped = ({ typed, boxes }: Asked, box: MeasureBox | (typeof NUMBERS)[number]) =>
  boxes.has(box) && (typed[box] ?? '').trim() !== ''

/** The number in a box; what can't be read is said against it. */
function numberIn(asked: Asked, box: MeasureBox | (typeof NUMBERS)[number]): number | undefined {
  const read = typedNumber.safeParse(asked.typed[box])
  return read.success ? read.data : asked.wrong(box, 'ENTER_A_NUMBER')
}

/** A box's measure in the unit of lib/calc. */
function measureIn(asked: Asked, box: MeasureBox): number | undefined {
  const value = numberIn(asked, box)
  const units: readonly Unit[] = UNITS_OF_KIND[MEASURE_BOXES[box]]
  const from = units.find((unit) => unit === asked.typed[`${box}Unit`])
  const [to] = units
  if (value === undefined) return undefined
  if (!from || !to) return asked.wrong(box, 'CHOOSE_ONE')
  return convert({ value, from, to })
}

const optionalIn = (asked: Asked, box: MeasureBox) =>
  isTyped(asked, box) ? measureIn(asked, box) : undefined

function numberWithin(
  asked: Asked,
  box: (typeof NUMBERS)[number],
  { min, max, isWhole = false }: Readonly<{ min: number; max: number; isWhole?: boolean }>,
): number | undefined {
  const value = isTyped(asked, box) ? numberIn(asked, box) : undefined
  if (value === undefined) return undefined
  if (isWhole && !Number.isInteger(value)) return asked.wrong(box, 'ENTER_A_WHOLE_NUMBER')
  return value >= min && value <= max ? value : asked.wrong(box, 'OUT_OF_RANGE')
}

const FIELD_OF_BOX: Readonly<Partial<Record<MeasureBox, string>>> = {
  thickness: 'thicknessM',
  length: 'lengthM',
  width: 'widthM',
  side: 'sideM',
  diameter: 'diameterM',
  outside: 'outsideDiameterM',
  wall: 'wallM',
  shank: 'shankDiameterM',
  area: 'areaM2',
  depth: 'depthM',
}

/** `l 2 1/2 × 2 × 1/4` is the table's `L2-1/2x2x1/4`. */
const oneName = (typed: string) => typed.replace(/(\d)\s+(\d+\/\d+)/g, '$1-$2')

function shapeDraft(asked: Asked): object {
  const { kind, family, measures } = SHAPES[asked.shape]
  if (family) {
    const typed = (asked.typed.designation ?? '').trim()
    if (typed === '') asked.wrong('designation', 'SAY_IT')
    return { kind, designation: sectionNameOf(family, oneName(typed)) }
  }
  return {
    kind,
    ...Object.fromEntries(measures.map((box) => [FIELD_OF_BOX[box], measureIn(asked, box)])),
  }
}

const part = ({ typed, boxes }: Asked) =>
  boxes.has('part') && typed.part ? { part: typed.part } : {}

function taskDraft(asked: Asked): object | undefined {
  switch (asked.task) {
    case 'sever':
      return undefined
    case 'hole':
      return { kind: 'hole', diameterM: measureIn(asked, 'along'), ...part(asked) }
    case 'notch':
    case 'cope':
      return {
        kind: asked.task,
        lengthM: measureIn(asked, 'along'),
        depthM: measureIn(asked, 'into'),
        ...(asked.task === 'notch' ? part(asked) : {}),
      }
    case 'bevel':
      return {
        kind: 'bevel',
        angleDeg: isTyped(asked, 'bevel')
          ? numberWithin(asked, 'bevel', { min: 0, max: 60 })
          : asked.wrong('bevel', 'ENTER_A_NUMBER'),
        landM: optionalIn(asked, 'land'),
      }
  }
}

function ownDraft(asked: Asked): object | undefined {
  const rate = isByArea(asked.shape) ? 'ownArea' : 'ownSpeed'
  if (![rate, 'ownOxygen', 'ownFuel'].some((box) => isTyped(asked, box as MeasureBox)))
    return undefined
  return {
    cuttingOxygenM3PerS: measureIn(asked, 'ownOxygen'),
    fuelM3PerS: measureIn(asked, 'ownFuel'),
    [rate === 'ownArea' ? 'areaM2PerS' : 'speedMPerS']: measureIn(asked, rate),
  }
}

function pieceDraft(asked: Asked): object | undefined {
  if (isTyped(asked, 'pieceArea')) return { areaM2: measureIn(asked, 'pieceArea') }
  if (isTyped(asked, 'pieceLength')) return { lengthM: measureIn(asked, 'pieceLength') }
  return undefined
}

/** Nothing that is nought or absent is kept. */
function draftOf(asked: Asked): object {
  const { typed, task, boxes } = asked
  const degrees = { min: 0, max: 60 }
  const miterDeg = numberWithin(asked, 'miter', degrees)
  const stack = numberWithin(asked, 'stack', { min: 1, max: MOST_STACKED, isWhole: true })
  const conditions = CUT_CONDITIONS.filter((name) => typed[name])
  const entries = {
    shape: shapeDraft(asked),
    task: taskDraft(asked),
    bevelDeg: task === 'bevel' ? undefined : numberWithin(asked, 'bevel', degrees) || undefined,
    miterDeg: miterDeg || undefined,
    miterOn: miterDeg && boxes.has('part') ? typed.part : undefined,
    stackPlates: stack === 1 ? undefined : stack,
    pierced: typed.start && boxes.has('start') ? typed.start === 'inside' : undefined,
    restarts: numberWithin(asked, 'restarts', { min: 0, max: MOST_RESTARTS, isWhole: true }),
    conditions: conditions.length > 0 ? conditions : undefined,
    own: ownDraft(asked),
    piece: pieceDraft(asked),
  }
  return JSON.parse(JSON.stringify(entries)) as object
}

/** Which box of the form a kept measure came from. */
function boxOfPath(path: readonly PropertyKey[], asked: Asked): string {
  const [group, last] = [String(path[0]), String(path.at(-1))]
  if (group === 'task') {
    if (last === 'landM') return 'land'
    if (last === 'angleDeg') return 'bevel'
    return last === 'depthM' ? 'into' : 'along'
  }
  if (group === 'piece') return last === 'lengthM' ? 'pieceLength' : 'pieceArea'
  if (group === 'own') {
    if (last === 'cuttingOxygenM3PerS') return 'ownOxygen'
    if (last === 'fuelM3PerS') return 'ownFuel'
    return isByArea(asked.shape) ? 'ownArea' : 'ownSpeed'
  }
  const box = Object.entries(FIELD_OF_BOX).find(([, field]) => field === last)?.[0]
  return group === 'shape' && box ? box : last
}

const isUnknownSection = (kept: CutDims['shape']) =>
  'designation' in kept &&
  isSectionFamily(kept.kind) &&
  namedSection(kept.kind, kept.designation) === undefined

/** What a section's boxes say, turned into what the database keeps; boxes that the shape has no use for are not read. */
export const measuresSchema = typedMeasures.transform((typed, context) => {
  let isWrong = false
  const wrong = (box: string, message: string): undefined => {
    isWrong = true
    context.addIssue({ code: 'custom', path: [box], message })
  }
  const { shape } = typed
  const task = taskOf(shape, typed.task)
  const asked = { typed, shape, task, boxes: boxesOfCut(shape, task), wrong }
  const draft = draftOf(asked)
  const pieceKg = optionalIn(asked, 'pieceWeight') ?? null
  if (pieceKg !== null && pieceKg <= 0) wrong('pieceWeight', 'NOT_POSITIVE')
  if (isWrong) return z.NEVER
  const dims = cutDimsSchema.safeParse(draft)
  for (const issue of dims.error?.issues ?? [])
    wrong(boxOfPath(issue.path, asked), issue.code === 'too_small' ? 'NOT_POSITIVE' : 'TOO_LARGE')
  const kept: CutDims | undefined = dims.data
  if (kept?.shape.kind === 'pipe' && kept.shape.wallM * 2 > kept.shape.outsideDiameterM)
    wrong('wall', 'WALL_OVER_HALF')
  if (kept && isUnknownSection(kept.shape)) wrong('designation', 'UNKNOWN_SECTION')
  return kept && !isWrong ? { shape, dims: kept, pieceKg } : z.NEVER
})

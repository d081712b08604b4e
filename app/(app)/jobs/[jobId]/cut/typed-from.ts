import { convert, type Unit } from '@/lib/calc/units'
import type { CutRow } from '@/lib/data/cut-rows'
import { type CutDims, shapeCode } from '@/lib/schemas/cut-dims'
import {
  boxesOfCut,
  type CutShapeCode,
  MEASURE_BOXES,
  type MeasureBox,
} from '@/lib/schemas/cut-shapes'
import { bareUnit } from '@/lib/schemas/sheet-measure'
import { shownSection } from '../shown-section'

/** What the boxes of the form hold at first: nothing for a new cut, a cut's own measures for a change. */
export type TypedCut = Readonly<{
  shape: CutShapeCode
  task: string
  part: string
  start: string
  boxes: Readonly<Record<string, string>>
  /** A named section, by the shape it is of. */
  sections: Readonly<Record<string, string>>
  material: string
  coating: string
  position: string
  conditions: readonly string[]
}>

type Typed = Readonly<{ value: number; from: Unit }>

const BOX_OF_FIELD: Readonly<Record<string, MeasureBox>> = {
  thicknessM: 'thickness',
  lengthM: 'length',
  widthM: 'width',
  sideM: 'side',
  diameterM: 'diameter',
  outsideDiameterM: 'outside',
  wallM: 'wall',
  shankDiameterM: 'shank',
  areaM2: 'area',
  depthM: 'depth',
}

const text = (value: number) => String(Number(value.toPrecision(7)))
const metres = (value: number): Typed => ({ value, from: 'm' })

function shapeMeasures(dims: CutDims): [MeasureBox, Typed][] {
  return Object.entries(dims.shape).flatMap(([field, value]) => {
    const box = BOX_OF_FIELD[field]
    if (!box || typeof value !== 'number') return []
    return [[box, { value, from: field === 'areaM2' ? 'm2' : 'm' }]]
  })
}

function taskMeasures({ task }: CutDims): [MeasureBox, Typed][] {
  switch (task?.kind) {
    case 'hole':
      return [['along', metres(task.diameterM)]]
    case 'notch':
    case 'cope':
      return [
        ['along', metres(task.lengthM)],
        ['into', metres(task.depthM)],
      ]
    case 'bevel':
      return task.landM === undefined ? [] : [['land', metres(task.landM)]]
    default:
      return []
  }
}

function otherMeasures(cut: CutRow): [MeasureBox, Typed][] {
  const { own, piece } = cut.dims
  const flows: [MeasureBox, Typed][] = own
    ? [
        ['ownOxygen', { value: own.cuttingOxygenM3PerS, from: 'm3/s' }],
        ['ownFuel', { value: own.fuelM3PerS, from: 'm3/s' }],
      ]
    : []
  if (own?.speedMPerS !== undefined)
    flows.push(['ownSpeed', { value: own.speedMPerS, from: 'm/s' }])
  if (own?.areaM2PerS !== undefined)
    flows.push(['ownArea', { value: own.areaM2PerS, from: 'm2/s' }])
  if (piece && 'lengthM' in piece) flows.push(['pieceLength', metres(piece.lengthM)])
  if (piece && 'areaM2' in piece) flows.push(['pieceArea', { value: piece.areaM2, from: 'm2' }])
  if (cut.pieceKg !== null) flows.push(['pieceWeight', { value: cut.pieceKg, from: 'kg' }])
  return flows
}

function numbersOf({ bevelDeg, miterDeg, stackPlates, restarts, task }: CutDims) {
  const numbers = {
    bevel: task?.kind === 'bevel' ? task.angleDeg : bevelDeg,
    miter: miterDeg,
    stack: stackPlates,
    restarts,
  }
  return Object.entries(numbers).flatMap(([name, value]) =>
    value === undefined ? [] : [[name, text(value)] as const],
  )
}

function boxesOf(cut: CutRow, units: 'us' | 'si'): Record<string, string> {
  const { dims } = cut
  const asked: ReadonlySet<string> = boxesOfCut(shapeCode(dims), dims.task?.kind)
  const measures = [...shapeMeasures(dims), ...taskMeasures(dims), ...otherMeasures(cut)]
  return {
    ...Object.fromEntries(
      measures
        .filter(([box]) => asked.has(box))
        .map(([box, typed]) => [
          box,
          text(convert({ ...typed, to: bareUnit(MEASURE_BOXES[box], units) })),
        ]),
    ),
    ...Object.fromEntries(numbersOf(dims)),
    ...('designation' in dims.shape ? { designation: dims.shape.designation } : {}),
    title: cut.title,
    count: String(cut.count),
    note: cut.note ?? '',
  }
}

const NEW_CUT: TypedCut = {
  shape: 'plate',
  task: 'sever',
  part: '',
  start: '',
  boxes: {},
  sections: {},
  material: 'carbon_steel',
  coating: '',
  position: 'flat',
  conditions: [],
}

export function typedFrom(cut: CutRow | null, viewer: Readonly<{ units: 'us' | 'si' }>): TypedCut {
  if (!cut) return NEW_CUT
  const { dims, material, coating, position } = cut
  const { task, pierced } = dims
  const shape = shapeCode(dims)
  const part = task && 'part' in task ? task.part : dims.miterOn
  const boxes = boxesOf(cut, viewer.units)
  return {
    shape,
    task: task?.kind ?? 'sever',
    part: part ?? '',
    start: pierced === undefined ? '' : pierced ? 'inside' : 'edge',
    boxes,
    sections: boxes.designation ? { [shape]: shownSection(boxes.designation) } : {},
    material,
    coating,
    position,
    conditions: dims.conditions ?? [],
  }
}

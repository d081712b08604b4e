import { convert, type Unit } from '@/lib/calc/units'
import type { CutRow } from '@/lib/data/cut-rows'
import { type CutShapeCode, shapeCode } from '@/lib/schemas/cut'

/** What the boxes of the form hold at first: nothing for a new cut, a cut's own measures for a change. */
export type TypedCut = Readonly<{
  shape: CutShapeCode
  boxes: Readonly<Record<string, string>>
  material: string
  coating: string
  position: string
  pierced: boolean
  dirty: boolean
  awkward: boolean
}>

const UNITS_OF = {
  us: { thickness: 'in', length: 'ft', mass: 'lb', area: 'ft2' },
  si: { thickness: 'mm', length: 'm', mass: 'kg', area: 'm2' },
} as const satisfies Record<'us' | 'si', Record<string, Unit>>

const LONG_BOXES = new Set(['length', 'pieceLength'])
const BOX_OF: Readonly<Record<string, string>> = {
  thicknessM: 'thickness',
  lengthM: 'length',
  widthM: 'width',
  sideM: 'side',
  diameterM: 'diameter',
  outsideDiameterM: 'outside',
  wallM: 'wall',
}

const text = (value: number) => String(Number(value.toPrecision(7)))

function boxesOf(cut: CutRow, units: 'us' | 'si'): Record<string, string> {
  const unit = UNITS_OF[units]
  const metres = (box: string, value: number) =>
    text(convert({ value, from: 'm', to: LONG_BOXES.has(box) ? unit.length : unit.thickness }))
  const { shape, bevelDeg, piece } = cut.dims
  const measures = Object.entries(shape).flatMap(([name, value]) => {
    const box = BOX_OF[name]
    return box && typeof value === 'number' ? [[box, metres(box, value)] as const] : []
  })
  return {
    ...Object.fromEntries(measures),
    ...(shape.kind === 'wShape' ? { designation: shape.designation } : {}),
    ...(bevelDeg ? { bevel: text(bevelDeg) } : {}),
    ...(piece && 'lengthM' in piece ? { pieceLength: metres('pieceLength', piece.lengthM) } : {}),
    ...(piece && 'areaM2' in piece
      ? { pieceArea: text(convert({ value: piece.areaM2, from: 'm2', to: unit.area })) }
      : {}),
    ...(cut.pieceKg === null
      ? {}
      : { pieceWeight: text(convert({ value: cut.pieceKg, from: 'kg', to: unit.mass })) }),
    title: cut.title,
    count: String(cut.count),
    note: cut.note ?? '',
  }
}

export function typedFrom(cut: CutRow | null, viewer: Readonly<{ units: 'us' | 'si' }>): TypedCut {
  const conditions = cut?.dims.conditions ?? []
  return {
    shape: cut ? shapeCode(cut.dims) : 'plate',
    boxes: cut ? boxesOf(cut, viewer.units) : {},
    material: cut?.material ?? 'carbon_steel',
    coating: cut?.coating ?? '',
    position: cut?.position ?? 'flat',
    pierced: cut?.dims.pierced ?? false,
    dirty: conditions.includes('dirty'),
    awkward: conditions.includes('awkward'),
  }
}

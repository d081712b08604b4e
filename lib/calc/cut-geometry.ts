import type { CutInput, CutShape, SegmentEstimate } from './estimate-types'
import type { Refusal } from './refusal'
import type { Provenance } from './source'
import { W_SHAPES, W_SHAPES_ID, type WShape } from './tables/w-shapes'
import { UNITS } from './units'

export const STEEL_KG_PER_M3 = 7850
export const MAX_BEVEL_DEG = 60
/** Area of a round bar over that of its bounding square: its cut at full depth is this much shorter. */
const ROUND_SHARE = Math.PI / 4

/** A run of metal of one thickness: how many alike, how long, how thick square through. */
export type Segment = {
  part: SegmentEstimate['part']
  count: number
  lengthM: number
  thicknessM: number
}

export type Section = {
  segments: Segment[]
  /** kg per metre of section; null for plate, which has an area instead. */
  kgPerM: number | null
  tableId: string | null
  provenance: Provenance
  /** Field that a thickness outside the table is reported on. */
  thicknessField: string
}

const inch = (value: number) => value * UNITS.in.toBase
const steelKgPerM = (areaM2: number) => areaM2 * STEEL_KG_PER_M3

type Builders = { [K in CutShape['kind']]: (shape: Extract<CutShape, { kind: K }>) => Section }

const entered = (segment: Segment, thicknessField: string, areaM2: number | null): Section => ({
  segments: [segment],
  kgPerM: areaM2 === null ? null : steelKgPerM(areaM2),
  tableId: null,
  provenance: 'entered',
  thicknessField,
})

const BUILD: Builders = {
  plate: ({ thicknessM, lengthM }) =>
    entered({ part: 'plate', count: 1, lengthM, thicknessM }, 'thicknessM', null),
  flatBar: ({ thicknessM, widthM }) =>
    entered(
      { part: 'bar', count: 1, lengthM: widthM, thicknessM },
      'thicknessM',
      thicknessM * widthM,
    ),
  squareBar: ({ sideM }) =>
    entered({ part: 'bar', count: 1, lengthM: sideM, thicknessM: sideM }, 'sideM', sideM ** 2),
  roundBar: ({ diameterM }) =>
    entered(
      { part: 'bar', count: 1, lengthM: ROUND_SHARE * diameterM, thicknessM: diameterM },
      'diameterM',
      ROUND_SHARE * diameterM ** 2,
    ),
  pipe: ({ outsideDiameterM, wallM }) => {
    const meanCircleM = Math.PI * (outsideDiameterM - wallM)
    return entered(
      { part: 'wall', count: 1, lengthM: meanCircleM, thicknessM: wallM },
      'wallM',
      meanCircleM * wallM,
    )
  },
  wShape: ({ designation }) => wShapeSection(W_SHAPES[designation]),
}

/**
 * Decomposes a cut into runs of one thickness each.
 *
 * Round bar: as long as its area cut at full depth. Pipe: developed length on the mean circle.
 * W-shape: two flanges and the web between them, each at its own thickness.
 *
 * @param shape cross-section in metres, already checked by `shapeRefusals`
 * @returns segments and kilograms per metre (steel at 7850 kg/m³; W-shapes by nominal weight)
 * @source geometry; 7850 kg/m³ as in the derivation of the oxygen floor; `W_SHAPES` from memory
 */
export function sectionOf(shape: CutShape): Section {
  const build = BUILD[shape.kind] as (shape: CutShape) => Section
  return build(shape)
}

function wShapeSection(row: WShape | undefined): Section {
  const known = {
    tableId: W_SHAPES_ID,
    provenance: 'from memory' as const,
    thicknessField: 'designation',
  }
  if (!row) return { segments: [], kgPerM: null, ...known }
  const webLengthM = inch(row.depthIn - 2 * row.flangeThicknessIn)
  return {
    segments: [
      {
        part: 'flange',
        count: 2,
        lengthM: inch(row.flangeWidthIn),
        thicknessM: inch(row.flangeThicknessIn),
      },
      { part: 'web', count: 1, lengthM: webLengthM, thicknessM: inch(row.webThicknessIn) },
    ],
    kgPerM: (row.poundsPerFoot * UNITS.lb.toBase) / UNITS.ft.toBase,
    ...known,
  }
}

/**
 * Mass of the piece that one cut brings down.
 *
 * @param input the piece (length of section, or area of plate) and the section it is of
 * @returns kg, or null when the piece does not go with the shape
 */
export function pieceKg(input: {
  piece: NonNullable<CutInput['piece']>
  shape: CutShape
  section: Section
}): number | null {
  const { piece, shape, section } = input
  if ('areaM2' in piece)
    return shape.kind === 'plate' ? piece.areaM2 * shape.thicknessM * STEEL_KG_PER_M3 : null
  return section.kgPerM === null ? null : section.kgPerM * piece.lengthM
}

/** Every dimension that can't be cut, named by its field. */
export function shapeRefusals(shape: CutShape, field: string): Refusal[] {
  if (shape.kind === 'wShape') {
    if (Object.hasOwn(W_SHAPES, shape.designation)) return []
    return [
      {
        code: 'UNKNOWN_SECTION',
        field: `${field}.designation`,
        value: shape.designation,
        limit: { allowed: Object.keys(W_SHAPES) },
      },
    ]
  }
  const { kind: _kind, ...dimensions } = shape
  const refusals: Refusal[] = Object.entries(dimensions)
    .filter(([, value]) => !(Number.isFinite(value) && value > 0))
    .map(([name, value]) => ({
      code: 'OUT_OF_RANGE',
      field: `${field}.${name}`,
      value,
      limit: { above: 0, unit: 'm' },
    }))
  if (shape.kind === 'pipe' && shape.wallM > shape.outsideDiameterM / 2) {
    const limit = { max: shape.outsideDiameterM / 2, unit: 'm' }
    refusals.push({ code: 'OUT_OF_RANGE', field: `${field}.wallM`, value: shape.wallM, limit })
  }
  return refusals
}

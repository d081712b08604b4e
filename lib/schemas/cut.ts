import { z } from 'zod'
import { clientKey, optionalText, requiredText } from './fields'
import {
  areaUnit,
  emptyIsAbsent,
  kilograms,
  lengthUnit,
  massUnit,
  metres,
  squareMetres,
  ticked,
  typedNumber,
  wholeNumber,
} from './measure'

export const CUT_SHAPES = [
  'plate',
  'flat_bar',
  'square_bar',
  'round_bar',
  'pipe',
  'w_shape',
] as const
export type CutShapeCode = (typeof CUT_SHAPES)[number]

/** The words of lib/rules' conditions, and what only hides the metal: paint of no known kind, scale. */
export const COATINGS = [
  'none',
  'unknown',
  'flammable',
  'lead_paint',
  'cadmium',
  'mercury',
  'beryllium',
  'zinc',
  'chromium',
] as const

export const POSITIONS = ['flat', 'horizontal', 'vertical', 'overhead'] as const
export const CUT_FUELS = ['acetylene', 'propane', 'natural_gas', 'propylene', 'mps'] as const
export const CUT_PROCESSES = ['hand', 'machine'] as const

const lengthM = z.number().positive().max(1000)
const thicknessM = z.number().positive().max(2)

/** The cross-section and the length, as lib/calc takes them. */
export const cutShapeSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('plate'), thicknessM, lengthM }),
  z.object({ kind: z.literal('flatBar'), thicknessM, widthM: thicknessM }),
  z.object({ kind: z.literal('squareBar'), sideM: thicknessM }),
  z.object({ kind: z.literal('roundBar'), diameterM: thicknessM }),
  z.object({
    kind: z.literal('pipe'),
    outsideDiameterM: z.number().positive().max(5),
    wallM: thicknessM,
  }),
  z.object({ kind: z.literal('wShape'), designation: z.string().min(1).max(20) }),
])

/** What `cuts.dims` holds: everything about the cut that its columns do not. */
export const cutDimsSchema = z.object({
  shape: cutShapeSchema,
  bevelDeg: z.number().min(0).max(60).optional(),
  pierced: z.boolean().optional(),
  conditions: z.array(z.enum(['dirty', 'awkward'])).optional(),
  piece: z
    .union([z.object({ lengthM }), z.object({ areaM2: z.number().positive().max(10_000) })])
    .optional(),
})
export type CutDims = z.infer<typeof cutDimsSchema>

const SHAPE_OF_KIND: Record<CutDims['shape']['kind'], CutShapeCode> = {
  plate: 'plate',
  flatBar: 'flat_bar',
  squareBar: 'square_bar',
  roundBar: 'round_bar',
  pipe: 'pipe',
  wShape: 'w_shape',
}

/** The column `cuts.shape` for what `dims` says. */
export const shapeCode = (dims: CutDims): CutShapeCode => SHAPE_OF_KIND[dims.shape.kind]

const measured = {
  thickness: typedNumber,
  length: typedNumber,
  width: typedNumber,
  side: typedNumber,
  diameter: typedNumber,
  outside: typedNumber,
  wall: typedNumber,
}
const withUnits = {
  thicknessUnit: lengthUnit,
  lengthUnit,
  widthUnit: lengthUnit,
  sideUnit: lengthUnit,
  diameterUnit: lengthUnit,
  outsideUnit: lengthUnit,
  wallUnit: lengthUnit,
}

const common = {
  title: optionalText(80),
  material: requiredText(40),
  coating: z.enum(COATINGS, 'CHOOSE_ONE').default('none'),
  position: z.enum(POSITIONS).default('flat'),
  count: wholeNumber.refine((count) => count >= 1 && count <= 10_000, 'OUT_OF_RANGE'),
  bevel: emptyIsAbsent(
    typedNumber.refine((degrees) => degrees >= 0 && degrees <= 60, 'OUT_OF_RANGE'),
  ),
  pierced: ticked,
  dirty: ticked,
  awkward: ticked,
  pieceLength: emptyIsAbsent(typedNumber),
  pieceLengthUnit: lengthUnit.optional(),
  pieceArea: emptyIsAbsent(typedNumber),
  pieceAreaUnit: areaUnit.optional(),
  pieceWeight: emptyIsAbsent(typedNumber.refine((weight) => weight > 0, 'NOT_POSITIVE')),
  pieceWeightUnit: massUnit.optional(),
  note: optionalText(300),
}

const { thickness, length, width, side, diameter, outside, wall } = measured
const { thicknessUnit, widthUnit, sideUnit, diameterUnit, outsideUnit, wallUnit } = withUnits

const typedCut = z.discriminatedUnion('shape', [
  z.object({ ...common, shape: z.literal('plate'), thickness, thicknessUnit, length, lengthUnit }),
  z.object({ ...common, shape: z.literal('flat_bar'), thickness, thicknessUnit, width, widthUnit }),
  z.object({ ...common, shape: z.literal('square_bar'), side, sideUnit }),
  z.object({ ...common, shape: z.literal('round_bar'), diameter, diameterUnit }),
  z.object({ ...common, shape: z.literal('pipe'), outside, outsideUnit, wall, wallUnit }),
  z.object({ ...common, shape: z.literal('w_shape'), designation: requiredText(20) }),
])
type TypedCut = z.output<typeof typedCut>

/** `w 12 × 50` is the table's `W12x50`. */
const sectionName = (text: string) =>
  text.replaceAll(' ', '').toLowerCase().replace('×', 'x').replace(/^w/, 'W')

function shapeOf(typed: TypedCut): CutDims['shape'] {
  switch (typed.shape) {
    case 'plate':
      return {
        kind: 'plate',
        thicknessM: metres(typed.thickness, typed.thicknessUnit),
        lengthM: metres(typed.length, typed.lengthUnit),
      }
    case 'flat_bar':
      return {
        kind: 'flatBar',
        thicknessM: metres(typed.thickness, typed.thicknessUnit),
        widthM: metres(typed.width, typed.widthUnit),
      }
    case 'square_bar':
      return { kind: 'squareBar', sideM: metres(typed.side, typed.sideUnit) }
    case 'round_bar':
      return { kind: 'roundBar', diameterM: metres(typed.diameter, typed.diameterUnit) }
    case 'pipe':
      return {
        kind: 'pipe',
        outsideDiameterM: metres(typed.outside, typed.outsideUnit),
        wallM: metres(typed.wall, typed.wallUnit),
      }
    case 'w_shape':
      return { kind: 'wShape', designation: sectionName(typed.designation) }
  }
}

function pieceOf(typed: TypedCut): CutDims['piece'] {
  if (typed.shape === 'plate') {
    return typed.pieceArea === undefined
      ? undefined
      : { areaM2: squareMetres(typed.pieceArea, typed.pieceAreaUnit ?? 'm2') }
  }
  return typed.pieceLength === undefined
    ? undefined
    : { lengthM: metres(typed.pieceLength, typed.pieceLengthUnit ?? 'm') }
}

function dimsOf(typed: TypedCut): CutDims {
  const piece = pieceOf(typed)
  const conditions = [
    ...(typed.dirty ? (['dirty'] as const) : []),
    ...(typed.awkward ? (['awkward'] as const) : []),
  ]
  return {
    shape: shapeOf(typed),
    ...(typed.bevel ? { bevelDeg: typed.bevel } : {}),
    ...(typed.pierced ? { pierced: true } : {}),
    ...(conditions.length > 0 ? { conditions } : {}),
    ...(piece ? { piece } : {}),
  }
}

/** Which box of the form a measure of the section came from. */
const BOX_OF: Record<string, string> = {
  thicknessM: 'thickness',
  lengthM: 'length',
  widthM: 'width',
  sideM: 'side',
  diameterM: 'diameter',
  outsideDiameterM: 'outside',
  wallM: 'wall',
  designation: 'designation',
  areaM2: 'pieceArea',
}

/** One cut as typed in the person's units, turned into what the database keeps. */
export const describedCutSchema = typedCut.transform((typed, context) => {
  const dims = dimsOf(typed)
  const checked = cutDimsSchema.safeParse(dims)
  for (const issue of checked.error?.issues ?? []) {
    const last = String(issue.path.at(-1))
    const box =
      issue.path[0] === 'piece' && last === 'lengthM' ? 'pieceLength' : (BOX_OF[last] ?? last)
    context.addIssue({
      code: 'custom',
      path: [box],
      message: issue.code === 'too_small' ? 'NOT_POSITIVE' : 'TOO_LARGE',
    })
  }
  if (dims.shape.kind === 'pipe' && dims.shape.wallM * 2 > dims.shape.outsideDiameterM) {
    context.addIssue({ code: 'custom', path: ['wall'], message: 'WALL_OVER_HALF' })
  }
  return {
    title: typed.title,
    material: typed.material,
    coating: typed.coating,
    shape: typed.shape,
    dims,
    position: typed.position,
    count: typed.count,
    pieceKg:
      typed.pieceWeight === undefined
        ? null
        : kilograms(typed.pieceWeight, typed.pieceWeightUnit ?? 'kg'),
    note: typed.note,
  }
})
export type DescribedCut = z.output<typeof describedCutSchema>

/** The same from a form: which list it is for, and which cut it changes. */
export const cutSchema = z.intersection(
  z.object({
    key: clientKey,
    cutListId: z.uuid(),
    cutId: emptyIsAbsent(z.uuid()).transform((id) => id ?? null),
    version: emptyIsAbsent(wholeNumber).transform((version) => version ?? null),
  }),
  describedCutSchema,
)
export type CutFormInput = z.output<typeof cutSchema>

export const removeCutSchema = z.object({ key: clientKey, cutId: z.uuid(), version: wholeNumber })
export type RemoveCutInput = z.output<typeof removeCutSchema>

import { z } from 'zod'
import { SECTION_FAMILIES } from '../calc/sections/named-section'
import { type CutShapeCode, codeOfKind } from './cut-shapes'

const lengthM = z.number().positive().max(1000)
const thicknessM = z.number().positive().max(2)
const areaM2 = z.number().positive().max(10_000)

/** The cross-section and the length, or what is taken off, as lib/calc takes them. */
const shapeSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('plate'), thicknessM, lengthM }),
  z.object({ kind: z.literal('flatBar'), thicknessM, widthM: thicknessM }),
  z.object({ kind: z.literal('squareBar'), sideM: thicknessM }),
  z.object({ kind: z.literal('roundBar'), diameterM: thicknessM }),
  z.object({
    kind: z.literal('pipe'),
    outsideDiameterM: z.number().positive().max(5),
    wallM: thicknessM,
  }),
  z.object({ kind: z.enum(SECTION_FAMILIES), designation: z.string().min(1).max(20) }),
  z.object({ kind: z.enum(['rivetHead', 'boltHead']), shankDiameterM: thicknessM }),
  z.object({ kind: z.enum(['gouge', 'washOff']), areaM2, depthM: thicknessM }),
])

const part = z.enum(['flange', 'web']).exactOptional()
const taskLengthM = z.number().positive().max(100)
const angleDeg = z.number().positive().max(60)
const taskSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('hole'), diameterM: taskLengthM, part }),
  z.object({ kind: z.literal('notch'), lengthM: taskLengthM, depthM: taskLengthM, part }),
  z.object({ kind: z.literal('cope'), lengthM: taskLengthM, depthM: taskLengthM }),
  z.object({
    kind: z.literal('bevel'),
    angleDeg,
    landM: z.number().min(0).max(2).exactOptional(),
  }),
])

const rate = z.number().min(1e-7).max(10).exactOptional()
const ownSchema = z.object({
  cuttingOxygenM3PerS: z.number().positive().max(1),
  fuelM3PerS: z.number().min(0).max(1),
  speedMPerS: rate,
  areaM2PerS: rate,
})

export const CUT_CONDITIONS = ['dirty', 'painted', 'awkward', 'cold', 'wind'] as const
export const MOST_STACKED = 100
export const MOST_RESTARTS = 1000

/** What `cuts.dims` holds: everything about the cut that its columns do not. What stood there before still reads. */
export const cutDimsSchema = z.object({
  shape: shapeSchema,
  task: taskSchema.exactOptional(),
  bevelDeg: z.number().min(0).max(60).exactOptional(),
  miterDeg: z.number().min(0).max(60).exactOptional(),
  miterOn: part,
  stackPlates: z.number().int().min(1).max(MOST_STACKED).exactOptional(),
  pierced: z.boolean().exactOptional(),
  restarts: z.number().int().min(0).max(MOST_RESTARTS).exactOptional(),
  conditions: z.array(z.enum(CUT_CONDITIONS)).exactOptional(),
  own: ownSchema.exactOptional(),
  piece: z.union([z.object({ lengthM }), z.object({ areaM2 })]).exactOptional(),
})
export type CutDims = z.infer<typeof cutDimsSchema>

/** The column `cuts.shape` for what `dims` says. */
export const shapeCode = (dims: CutDims): CutShapeCode => codeOfKind(dims.shape.kind)

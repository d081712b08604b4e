import { z } from 'zod'
import { onGrid } from '@/lib/permit/drawing'
import { clientKey, deviceAtField, idField } from './fields'

const shortId = z.string().regex(/^[a-z0-9-]{1,40}$/)
const label = z.string().trim().min(1, 'SAY_IT').max(60, 'TOO_LONG')
const point = z
  .object({ xM: z.number().min(0).max(500), yM: z.number().min(0).max(500) })
  .transform(onGrid)
const rating = z.number().int().min(0).max(320)

const sheetSchema = z.object({
  id: shortId,
  name: label,
  heightM: z.number().min(-300).max(300),
  widthM: z.number().min(1).max(500),
  depthM: z.number().min(1).max(500),
  column: point.nullable(),
  pictureId: z.uuid().nullable(),
})

const ofMark = { id: shortId, sheetId: shortId, at: point, label }
const measuredM = z.number().min(0).max(500).nullable()

const markSchema = z.discriminatedUnion('kind', [
  z.object({
    ...ofMark,
    kind: z.literal('opening'),
    measuredM,
    opening: z.object({
      kind: z.enum(['wall', 'floor', 'duct', 'shaft']),
      exposes: z.boolean().nullable(),
      canClose: z.boolean(),
    }),
  }),
  z.object({
    ...ofMark,
    kind: z.literal('burnable'),
    measuredM,
    burnable: z.object({
      state: z.enum(['movable', 'covered', 'stays', 'unprotectable']),
      isEasilyLit: z.boolean(),
    }),
  }),
  z.object({
    ...ofMark,
    kind: z.literal('sprinkler_head'),
    measuredM,
    head: z.object({ isReached: z.boolean() }),
  }),
  z.object({
    ...ofMark,
    kind: z.literal('extinguisher'),
    measuredM,
    extinguisher: z.object({ ratingA: rating, ratingB: rating }),
  }),
  z.object({ ...ofMark, kind: z.literal('watch_post'), measuredM }),
])

const isUnique = (ids: readonly string[]) => new Set(ids).size === ids.length

export const areaDrawingSchema = z
  .object({
    workSheetId: shortId,
    sheets: z.array(sheetSchema).min(1).max(8),
    marks: z.array(markSchema).max(150),
  })
  .refine(({ sheets, marks }) => isUnique([...sheets, ...marks].map(({ id }) => id)))
  .refine(({ sheets, workSheetId }) => sheets.some(({ id }) => id === workSheetId))
  .refine(({ sheets, marks }) =>
    marks.every((mark) => sheets.some(({ id }) => id === mark.sheetId)),
  )

/** The drawing as the form holds it: text that must be one. */
const drawingField = z
  .string()
  .max(100_000, 'TOO_LONG')
  .transform((text, context) => {
    try {
      return JSON.parse(text) as unknown
    } catch {
      context.addIssue({ code: 'custom', message: 'NOT_A_DRAWING' })
      return z.NEVER
    }
  })
  .pipe(areaDrawingSchema)

export const keepDrawingSchema = z.object({
  key: clientKey,
  permitId: idField,
  deviceAt: deviceAtField,
  /** The drawing it was drawn over; 0: none yet. */
  revision: z.coerce.number().int().min(0),
  drawing: drawingField,
})
export type KeepDrawingInput = z.infer<typeof keepDrawingSchema>

import { z } from 'zod'
import { clientKey, clockField, dayField, deviceAtField, idField, requiredText } from './fields'

export const PAPER_KINDS = ['round', 'cut', 'gas', 'watch', 'other'] as const
export type PaperKind = (typeof PAPER_KINDS)[number]

/** One line of the posted sheet, as somebody wrote it by pen. */
export const paperEntrySchema = z.object({
  key: clientKey,
  permitId: idField,
  pictureId: idField,
  kind: z.enum(PAPER_KINDS, 'CHOOSE_ONE'),
  day: dayField,
  clock: clockField,
  writtenBy: requiredText(80),
  words: requiredText(300),
  deviceAt: deviceAtField,
})
export type PaperEntryInput = z.infer<typeof paperEntrySchema>

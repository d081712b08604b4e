import { z } from 'zod'
import { clientKey, deviceAtField, optionalText } from './fields'

export const PICTURE_PURPOSES = ['plan', 'precaution', 'answer', 'paper'] as const
export type PicturePurpose = (typeof PICTURE_PURPOSES)[number]

/** The database holds the same: a plan has writing on it that must stay readable. */
export const PICTURE_LIMITS: Readonly<Record<PicturePurpose, number>> = {
  plan: 1_000_000,
  precaution: 300_000,
  answer: 300_000,
  paper: 300_000,
}
export const LARGEST_PICTURE = Math.max(...Object.values(PICTURE_LIMITS))

/** What is said about a picture, in the address that it is sent to. */
export const pictureSchema = z.object({
  key: clientKey,
  permitId: z.uuid(),
  purpose: z.enum(PICTURE_PURPOSES),
  about: z
    .string()
    .regex(/^[A-Za-z0-9_-]{1,80}$/)
    .nullish()
    .transform((value) => value ?? null),
  note: optionalText(),
  deviceAt: deviceAtField,
})
export type PictureInput = z.infer<typeof pictureSchema>

import { z } from 'zod'
import { clientKey, deviceAtField, idField, requiredText } from './fields'
import { WIND_UNITS, windField } from './permit'

export const WEATHER_KINDS = ['wind', 'burn_ban', 'ban_lifted'] as const

/** What somebody says of the weather at a site, from a permit there. */
export const weatherReportSchema = z
  .object({
    key: clientKey,
    permitId: idField,
    deviceAt: deviceAtField,
    kind: z.enum(WEATHER_KINDS, 'CHOOSE_ONE'),
    wind: windField,
    windUnit: z.enum(WIND_UNITS).default('mph'),
    words: requiredText(200),
  })
  .superRefine(({ kind, wind }, context) => {
    if (kind === 'wind' && wind === null)
      context.addIssue({ code: 'custom', path: ['wind'], message: 'ENTER_A_NUMBER' })
  })
  .transform((typed) => ({ ...typed, wind: typed.kind === 'wind' ? typed.wind : null }))
export type WeatherReportInput = z.infer<typeof weatherReportSchema>

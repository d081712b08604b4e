import { z } from 'zod'
import { clientKey, dayField, idField, optionalText, requiredText, tickedField } from './fields'

const MOST_DAYS = 31
const DAY_MS = 86_400_000

const daysBetween = (from: string, to: string) =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS)

/** One person, or all of a crew: "person ID" or "crew ID". */
const whoField = z
  .string()
  .regex(/^(person|crew) [0-9a-f-]{36}$/, 'CHOOSE_ONE')
  .transform((value) => {
    const [kind, id] = value.split(' ') as ['person' | 'crew', string]
    return { kind, id }
  })

export const assignSchema = z
  .object({ key: clientKey, siteId: idField, who: whoField, from: dayField, to: dayField })
  .refine((one) => one.to >= one.from, { path: ['to'], message: 'ENDS_BEFORE_START' })
  .refine((one) => daysBetween(one.from, one.to) < MOST_DAYS, {
    path: ['to'],
    message: 'MONTH_AT_MOST',
  })
export type AssignInput = z.output<typeof assignSchema>

/** Every day from the first to the last, as the calendar counts. */
export const daysOf = ({ from, to }: Readonly<{ from: string; to: string }>): string[] =>
  Array.from({ length: daysBetween(from, to) + 1 }, (_, i) =>
    new Date(Date.parse(`${from}T00:00:00Z`) + i * DAY_MS).toISOString().slice(0, 10),
  )

export const cancelAssignmentSchema = z.object({ key: clientKey, assignmentId: idField })
export type CancelAssignmentInput = z.output<typeof cancelAssignmentSchema>

export const visitorSchema = z.object({
  key: clientKey,
  siteId: idField,
  name: requiredText(80),
  firm: optionalText(80),
  purpose: requiredText(200),
  hostId: idField,
  isTold: tickedField,
})
export type VisitorInput = z.output<typeof visitorSchema>

export const visitorLeftSchema = z.object({ key: clientKey, visitorId: idField })
export type VisitorLeftInput = z.output<typeof visitorLeftSchema>

/** Common practice, no source: a photograph or a scan of a card. The database holds the same. */
export const LARGEST_EVIDENCE = 2_000_000
export const evidenceSchema = z.object({ key: clientKey, qualificationId: z.uuid() })
export type EvidenceInput = z.output<typeof evidenceSchema>

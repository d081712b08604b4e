import { z } from 'zod'

export const RECORD_STATES = ['all', 'closed', 'stopped', 'withdrawn'] as const

const day = z.iso.date().nullable().catch(null)

/** The filter of the list stands in the address; what can't be read is left out. */
export const recordFilterSchema = z.object({
  site: z.uuid().nullable().catch(null),
  state: z.enum(RECORD_STATES).catch('all'),
  from: day,
  to: day,
  after: z.string().max(80).nullable().catch(null),
})
export type RecordFilter = z.infer<typeof recordFilterSchema>

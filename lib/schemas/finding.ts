import { z } from 'zod'
import { FALSE_ALARMS_A_YEAR, USUAL_ALARMS_A_YEAR } from '@/lib/calc/site-balance'
import { clientKey, idField } from './fields'

export const CAUSE_KINDS = [
  'swap_not_logged',
  'wrong_cylinder_logged',
  'reading_mistyped',
  'work_not_logged',
  'leak_idle',
  'leak_in_use',
  'short_fill',
  'boil_off',
] as const

const eventKg = z.object({ eventId: z.uuid(), kg: z.number() })

/** What an accepted cause changes in the numbers, as kept. */
export const correctionSchema = z.object({
  kind: z.enum(CAUSE_KINDS),
  readings: z.array(z.object({ eventId: z.uuid(), contentsKg: z.number() })),
  explained: z.array(eventKg),
  used: z.array(eventKg),
})

const hypothesisSchema = z.object({
  kind: z.enum(CAUSE_KINDS),
  how: z.enum(['digits_swapped', 'digit_lost', 'digit_added', 'unit', 'other_gauge']).nullable(),
  siteId: z.uuid(),
  fromMs: z.number(),
  toMs: z.number(),
  cylinderIds: z.array(z.uuid()),
  readingIds: z.array(z.uuid()),
  outfitId: z.uuid().nullable(),
  jobIds: z.array(z.uuid()),
  sizeKg: z.number(),
  standardUncertaintyKg: z.number(),
  statistic: z.number(),
  probability: z.number(),
  settledBy: z.enum([
    'read_both_cylinders',
    'return_slip',
    'ask_who_read',
    'shift_record',
    'soap_and_read_twice',
    'leak_test_of_outfit',
    'delivery_note_and_weight',
    'rate_of_the_vessel',
  ]),
  isEqualFirst: z.boolean(),
  meant: z.object({ readingId: z.uuid(), contentsKg: z.number() }).nullable(),
  explains: z.array(z.object({ readingId: z.uuid(), kg: z.number() })),
})

/** Causes of a finding as kept. Stored JSON is checked again: an older shape must fail here. */
export const hypothesesSchema = z.array(hypothesisSchema).min(1)

const amount = z.object({ kg: z.number(), variance: z.number() })

/** A site's weeks as kept. */
export const weeksSchema = z.array(
  z.object({
    fromMs: z.number(),
    used: amount,
    expected: amount,
    lost: amount,
    // Looks of before it was kept have the weeks' own alone.
    toLast: z.object({ used: z.number(), lost: z.number(), both: z.number() }).optional(),
  }),
)

export const FINDING_DECISIONS = ['looking', 'accepted', 'rejected', 'withdrawn'] as const

export const decideFindingSchema = z
  .object({
    key: clientKey,
    findingId: idField,
    decision: z.enum(FINDING_DECISIONS, 'CHOOSE_ONE'),
    hypothesis: z
      .union([z.literal(''), z.coerce.number().int().min(0)])
      .optional()
      .transform((value) => (value === '' || value === undefined ? null : value)),
    note: z.string().trim().max(300, 'TOO_LONG').default(''),
  })
  .superRefine(({ decision, hypothesis, note }, context) => {
    if (decision === 'accepted' && hypothesis === null)
      context.addIssue({ code: 'custom', path: ['hypothesis'], message: 'CHOOSE_ONE' })
    if (decision !== 'looking' && note === '')
      context.addIssue({ code: 'custom', path: ['note'], message: 'SAY_IT' })
  })
export type DecideFindingInput = z.infer<typeof decideFindingSchema>

/** Asked by somebody of one site; the look goes through the whole record. */
export const lookAgainSchema = z.object({ key: clientKey, siteId: idField })
export type LookAgainInput = z.infer<typeof lookAgainSchema>

/** The filter of a site's balance stands in the address; what can't be read is left out. */
export const balanceFilterSchema = z.object({
  site: z.uuid().nullable().catch(null),
  gas: z.string().max(40).nullable().catch(null),
  weeks: z.coerce.number().int().min(4).max(60).catch(26),
  /** False alarms a year borne over all charts. */
  alarms: z.coerce.number().pipe(z.literal(FALSE_ALARMS_A_YEAR)).catch(USUAL_ALARMS_A_YEAR),
})
export type BalanceFilter = z.infer<typeof balanceFilterSchema>

/** The filter of the queue stands in the address; what can't be read is left out. */
export const findingFilterSchema = z.object({
  site: z.uuid().nullable().catch(null),
  show: z.enum(['open', 'decided']).catch('open'),
})
export type FindingFilter = z.infer<typeof findingFilterSchema>

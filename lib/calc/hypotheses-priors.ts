import type { CauseKind, MistypedHow, SettledBy } from './hypotheses-types'

/**
 * How often each cause is believed to happen, a time that it could: a reading, a stretch of work, a stay
 * in the rack, a delivery. Own choice, no source: say so wherever a probability is shown.
 */
export const CAUSE_PRIORS: Readonly<Record<CauseKind, number>> = {
  reading_mistyped: 0.004,
  swap_not_logged: 0.004,
  wrong_cylinder_logged: 0.002,
  work_not_logged: 0.004,
  leak_idle: 0.002,
  leak_in_use: 0.001,
  short_fill: 0.002,
  boil_off: 0.02,
}

/** How a mistyped reading is believed to come about; the rest is any other value. Own choice. */
export const HOW_SHARES: Readonly<Record<MistypedHow, number>> = {
  digits_swapped: 0.3,
  digit_lost: 0.15,
  digit_added: 0.15,
  unit: 0.15,
  other_gauge: 0.1,
}

/** What would settle each. @source common practice, no source */
export const SETTLED_BY: Readonly<Record<CauseKind, SettledBy>> = {
  reading_mistyped: 'ask_who_read',
  swap_not_logged: 'read_both_cylinders',
  wrong_cylinder_logged: 'read_both_cylinders',
  work_not_logged: 'shift_record',
  leak_idle: 'soap_and_read_twice',
  leak_in_use: 'leak_test_of_outfit',
  short_fill: 'delivery_note_and_weight',
  boil_off: 'rate_of_the_vessel',
}

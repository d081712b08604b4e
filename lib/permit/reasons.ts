import type { PersonFact, QualificationKind, Reason, Verdict } from './types'

/** Every refusal there is; each has its words under `permitReasons` in messages/en.json. */
export const PERMIT_REASON_CODES = [
  'wrong_state',
  'survey_unanswered',
  'survey_blocked',
  'drawing_no_work_point',
  'drawing_level_not_placed',
  'drawing_opening_unsaid',
  'rules_refuse',
  'watch_judgement_open',
  'watch_not_named',
  'operator_not_named',
  'signature_missing',
  'signature_voided',
  'signature_by_other',
  'signature_order',
  'same_person',
  'lone_not_allowed',
  'lone_other_signer',
  'lone_not_briefed',
  'not_qualified',
  'person_inactive',
  'person_busy',
  'outfit_missing',
  'outfit_out_of_service',
  'gas_test_missing',
  'gas_test_expired',
  'gas_test_oxygen_low',
  'gas_test_oxygen_high',
  'gas_test_lel',
  'gas_test_co',
  'gas_test_h2s',
  'gas_test_cause',
  'gas_test_instrument',
  'pai_arrival_unknown',
  'pai_not_on_site',
  'valid_until_past',
  'valid_until_over_cap',
  'valid_until_over_host',
  'valid_until_over_entry',
  'entry_permit_missing',
  'permit_ended',
  'permit_stopped',
  'look_missing',
  'look_too_old',
  'resume_signature_missing',
  'time_order',
  'time_future',
  'outside_open_time',
  'wrong_area',
  'operator_not_on',
  'watch_not_on',
  'watch_absent',
  'watch_not_stood',
  'cylinder_wrong_gas',
  'cylinder_empty',
  'cylinder_quarantined',
  'cylinder_not_here',
  'cylinder_on_other_outfit',
  'cylinder_same',
  'swap_step_open',
  'round_too_early',
  'round_not_needed',
  'post_unanswered',
  'post_not_scanned',
  'post_code_wrong',
  'watch_owed',
  'monitoring_owed',
  'final_look_early',
  'final_look_missing',
  'statement_missing',
  'statement_not_asked',
  'survey_shortens_nothing',
  'post_not_clear',
  'impairment_open',
  'impairment_not_open',
  'torch_out_unknown',
  'stop_pressed',
  'stopped_before_issue',
  'stop_not_pressed',
  'gear_check_due',
  'look_due_shift',
  'look_due_hours',
  'burn_ban',
  'wind_over',
] as const
export type PermitReasonCode = (typeof PERMIT_REASON_CODES)[number]

const MS_PER_MIN = 60_000

export function reason(
  code: PermitReasonCode,
  params: Reason['params'] = {},
  ruleId?: string | null,
): Reason {
  return ruleId ? { code, params, ruleId } : { code, params }
}

/** Allowed only when there is no reason against it; otherwise all of them at once. */
export function verdict(reasons: readonly (Reason | null)[]): Verdict {
  const all = reasons.filter((one) => one !== null)
  return all.length === 0 ? { ok: true } : { ok: false, reasons: all }
}

/** Whole minutes from one instant to another, started ones counted. */
export function minutesBetween(from: Date, to: Date): number {
  return Math.ceil((to.getTime() - from.getTime()) / MS_PER_MIN)
}

export function addMinutes(at: Date, minutes: number): Date {
  return new Date(at.getTime() + minutes * MS_PER_MIN)
}

export function isQualified(person: PersonFact, kind: QualificationKind, day: string): boolean {
  return person.qualifications.some(
    (one) =>
      one.kind === kind &&
      one.validFrom <= day &&
      (one.validUntil === null || day <= one.validUntil),
  )
}

/** Why this person may not act in this part on this day; a person nobody knows may never. */
export function personReasons(
  person: PersonFact | undefined,
  kind: QualificationKind,
  day: string,
): Reason[] {
  if (!person) return [reason('not_qualified', { person: '', kind })]
  return [
    ...(person.isActive ? [] : [reason('person_inactive', { person: person.name })]),
    ...(isQualified(person, kind, day)
      ? []
      : [reason('not_qualified', { person: person.name, kind })]),
  ]
}

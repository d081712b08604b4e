export const DUTIES = ['operate', 'watch', 'authorize'] as const
export type Duty = (typeof DUTIES)[number]

const ASKS = {
  operate: { role: 'operator', kind: 'torch_operator' },
  watch: { role: 'fire_watch', kind: 'fire_watch' },
  authorize: { role: 'pai', kind: 'pai' },
} as const satisfies Record<Duty, { role: string; kind: string }>

export interface PersonThatDay {
  /** Held at the site. */
  roles: readonly string[]
  /** Kinds of qualification that cover the site's day. */
  qualifiedFor: readonly string[]
  isShutOut: boolean
  hasPin: boolean
  /** Has set a password of their own in place of the one that was made for them. */
  hasBegun: boolean
  isAssignedHere: boolean
  isAssignedElsewhere: boolean
  /** Cuts or watches under a permit of another site now. */
  isBusyElsewhere: boolean
}

export type DutyReason = 'shutOut' | 'notBegun' | 'noPin' | 'notQualified' | 'busyElsewhere'
export type DutyNote = 'assignedElsewhere' | 'notAssigned'

export type DutyThatDay = Readonly<{
  may: boolean
  /** All that stands against it at once. */
  reasons: readonly DutyReason[]
  /** What somebody should ask about; it forbids nothing. */
  note: DutyNote | null
}>

/**
 * Whether somebody may operate, watch or authorize at a site on a day; null where they have no such
 * role there. What it says may be signed is what the database lets be signed.
 *
 * @param person what is known of them on the site's day
 * @param areAssigned whether anybody is assigned to the site that day: else nobody is asked about it
 */
export function dutyThatDay(
  person: PersonThatDay,
  duty: Duty,
  areAssigned: boolean,
): DutyThatDay | null {
  const { role, kind } = ASKS[duty]
  if (!person.roles.includes(role)) return null
  const against: Readonly<Record<DutyReason, boolean>> = {
    shutOut: person.isShutOut,
    notBegun: !person.hasBegun,
    noPin: person.hasBegun && !person.hasPin,
    notQualified: !person.qualifiedFor.includes(kind),
    busyElsewhere: person.isBusyElsewhere,
  }
  const reasons = (Object.keys(against) as DutyReason[]).filter((reason) => against[reason])
  return { may: reasons.length === 0, reasons, note: noteOf(person, areAssigned) }
}

function noteOf(person: PersonThatDay, areAssigned: boolean): DutyNote | null {
  if (person.isAssignedHere) return null
  if (person.isAssignedElsewhere) return 'assignedElsewhere'
  return areAssigned ? 'notAssigned' : null
}

/** Days before an end at which it is told: common practice, no source. */
export const END_STAGES = [60, 30, 7] as const

/** The last of those days that has come; null while it is farther off, and when it is over. */
export function endStage(daysLeft: number): (typeof END_STAGES)[number] | null {
  if (daysLeft < 0) return null
  return END_STAGES.findLast((stage) => daysLeft <= stage) ?? null
}

/** What a value was typed as. */
export type TypedAs = { value: number; unit: 'psi' | 'bar' | 'kPa' | 'lb' | 'kg' }

export type MistypedHow = 'digits_swapped' | 'digit_lost' | 'digit_added' | 'unit' | 'other_gauge'
/** What it may have been meant to be; null where the way tells no value. */
export type MeantAs = { how: MistypedHow; gasKg: number | null }

/** Contents of one cylinder at one moment, as kept. */
export type TrailReading = {
  /** The record's own entry. */
  id: string
  cylinderId: string
  /** Cylinders of one size can stand in for each other. */
  sizeId: string
  nominalKg: number
  heelKg: number
  siteId: string
  atMs: number
  /** filled: a new filling begins, at the filler's word. */
  kind: 'filled' | 'put_on' | 'read' | 'taken_off'
  /** The outfit that it hangs on at that moment; null while it stands. */
  outfitId: string | null
  gasKg: number
  standardUncertaintyKg: number
  /** Asked of the few readings that stand out. */
  meantAs: () => readonly MeantAs[]
}

/** Work that was logged on an outfit, and what it should have taken of the gas. */
export type TrailWork = {
  outfitId: string
  jobId: string | null
  /** Whose factor it goes by: a crew at a site. */
  groupId: string
  fromMs: number
  toMs: number
  /** Null where the log does not say what was cut. */
  expectedKg: number | null
}

/** Readings of one gas and the work on its outfits. */
export type Trail = {
  /** Oldest first within each cylinder. */
  readings: readonly TrailReading[]
  works: readonly TrailWork[]
  /** Kilograms a day that a liquid container of each size boils off while it stands. */
  boilOffKgPerDay?: Readonly<Record<string, number>>
  /** Kilograms by which the balance that a reading ends is off for a reason that was accepted. */
  explainedKg?: ReadonlyMap<string, number>
}

/** What one balance is of: gas that left some cylinders in one stretch, beside what was expected. */
export type Stretch = {
  kind: 'work' | 'hanging' | 'standing'
  siteId: string
  outfitId: string | null
  jobIds: readonly string[]
  groupId: string | null
  fromMs: number
  toMs: number
  /** Null where the record can't say: then nothing is balanced. */
  expectedKg: number | null
  /** By what was accepted of it before, kg. */
  explainedKg: number
  /** Places of the readings that end an interval of it; each began at the one before of its cylinder. */
  ends: readonly number[]
}

export type CauseKind =
  | 'swap_not_logged'
  | 'wrong_cylinder_logged'
  | 'reading_mistyped'
  | 'work_not_logged'
  | 'leak_idle'
  | 'leak_in_use'
  | 'short_fill'
  | 'boil_off'

/** The record that would settle whether it was so. */
export type SettledBy =
  | 'read_both_cylinders'
  | 'return_slip'
  | 'ask_who_read'
  | 'shift_record'
  | 'soap_and_read_twice'
  | 'leak_test_of_outfit'
  | 'delivery_note_and_weight'
  | 'rate_of_the_vessel'

/** Whom and what a cause speaks of. */
export type CauseSubject = {
  siteId: string
  fromMs: number
  toMs: number
  cylinderIds: readonly string[]
  readingIds: readonly string[]
  outfitId: string | null
  jobIds: readonly string[]
}

export type Hypothesis = CauseSubject & {
  kind: CauseKind
  /** How a reading was mistyped, where the size tells. */
  how: MistypedHow | null
  /** Gas that it moves, kg, and its standard uncertainty. */
  sizeKg: number
  standardUncertaintyKg: number
  /** Twice the log of the likelihood ratio at the best size. */
  statistic: number
  /** Share of the belief among the causes named and chance, under the stated priors. */
  probability: number
  settledBy: SettledBy
  /** What the reading would have been, where one was mistyped or taken at a filler's word. */
  meant: { readingId: string; contentsKg: number } | null
  /** By how much it accounts for each balance, named by a reading that ends it, kg. */
  explains: readonly { readingId: string; kg: number }[]
  /** The balances alone cannot tell it from the one that fits best. */
  isEqualFirst: boolean
}

export type Finding = {
  /** The most probable first. */
  hypotheses: readonly Hypothesis[]
  /** Belief that it is no more than chance, under the same priors. */
  chance: number
}

import type { ConditionField, Conditions } from './conditions'

export const CURE_CODES = [
  'designated_area',
  'out_of_the_space',
  'combustibles_away',
  'combustibles_covered',
  'floor_swept',
  'openings_closed',
  'nothing_beyond_openings',
  'far_side_cleared',
  'metal_parted',
  'duct_stopped',
  'sprinklers_restored',
  'air_good',
  'dust_cleaned',
  'painting_apart',
  'bulk_away',
  'others_kept_out',
  'drop_zone_barred',
  'ban_over',
  'wind_down',
  'extinguisher_brought',
  'program_covers',
  'container_cleaned',
  'hollow_vented',
  'approved_crew',
  'coating_stripped',
  'cylinders_out',
  'solvent_away',
  'solvent_shielded',
  'marine_chemist',
  'competent_person',
  'area_inspected',
  'permit_written',
  'permit_filled_in',
  'other_authoriser',
  'third_person',
  'other_watch',
  'watch_relieved',
  'watch_trained',
  'all_in_one_view',
] as const
export type CureCode = (typeof CURE_CODES)[number]

/** One thing that people can do about the conditions, and what the conditions are then; null: nothing to do. */
export interface Cure {
  code: CureCode
  fields: readonly ConditionField[]
  changes: (c: Conditions) => Partial<Conditions> | null
}

/** The changes where they are to be made; null where there is nothing to do. */
export const when = (holds: boolean, changes: Partial<Conditions>) => (holds ? changes : null)

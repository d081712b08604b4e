import type { ConditionField, Conditions } from './conditions'
import { DEFAULT_CONDITIONS } from './conditions'

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

/** What belongs to the place and stays behind when the piece goes to the designated area. */
const OF_THE_PLACE = [
  'indoors',
  'enclosed',
  'areaAuthorized',
  'coveredProcess',
  'sprinklerSystem',
  'sprinklerHeadNear',
  'detectionNear',
  'explosiveAtmospherePossible',
  'dustAccumulation',
  'bulkIgnitablesNear',
  'flammableFinishingNear',
  'nearestCombustibleFt',
  'combustibleState',
  'easilyIgnitedBySparks',
  'floor',
  'floorDebrisFt',
  'openings',
  'wall',
  'farSideCombustibles',
  'pipeContactCombustible',
  'ductOrConveyor',
  'heightFt',
  'allExposuresVisibleToOneWatcher',
  'confinedSpace',
  'oxygenPercent',
  'lflPercent',
  'cylindersLocation',
  'chlorinatedSolventFt',
  'solventShielded',
  'openToOthers',
  'ifcPortableIndoorCovered',
  'shipyardSpace',
] as const satisfies readonly ConditionField[]

function atTheDesignatedArea(): Partial<Conditions> {
  const ordinary = OF_THE_PLACE.map((field) => [field, DEFAULT_CONDITIONS[field]] as const)
  return { ...Object.fromEntries(ordinary), areaClass: 'designated' }
}

const when = (holds: boolean, changes: Partial<Conditions>) => (holds ? changes : null)
const STAYS: readonly Conditions['combustibleState'][] = [
  'movable',
  'in_place',
  'covered',
  'unprotected_open',
  'unprotectable',
]
const AIR_RANGE = { minPct: 19.5, belowPct: 22 }
const NORMAL_OXYGEN_PCT = 20.9

function isAirBad({ explosiveAtmospherePossible, oxygenPercent, lflPercent }: Conditions): boolean {
  const isOut =
    oxygenPercent !== null &&
    (oxygenPercent < AIR_RANGE.minPct || oxygenPercent >= AIR_RANGE.belowPct)
  return explosiveAtmospherePossible || isOut || (lflPercent ?? 0) > 0
}

const PLACE_CURES: readonly Cure[] = [
  {
    code: 'combustibles_away',
    fields: ['combustibleState', 'nearestCombustibleFt', 'easilyIgnitedBySparks'],
    changes: (c) =>
      when(STAYS.includes(c.combustibleState), {
        combustibleState: 'none',
        nearestCombustibleFt: null,
        easilyIgnitedBySparks: false,
      }),
  },
  {
    code: 'combustibles_covered',
    fields: ['combustibleState'],
    changes: (c) =>
      when(['in_place', 'unprotected_open'].includes(c.combustibleState), {
        combustibleState: 'covered',
      }),
  },
  {
    code: 'floor_swept',
    fields: ['floorDebrisFt'],
    changes: (c) => when(c.floorDebrisFt !== null, { floorDebrisFt: null }),
  },
  {
    code: 'openings_closed',
    fields: ['openings'],
    changes: (c) =>
      when(
        c.openings.some((one) => !one.canClose),
        { openings: c.openings.map((one) => ({ ...one, canClose: true })) },
      ),
  },
  {
    code: 'nothing_beyond_openings',
    fields: ['openings'],
    changes: (c) =>
      when(
        c.openings.some((one) => one.exposesCombustible),
        { openings: c.openings.map((one) => ({ ...one, exposesCombustible: false })) },
      ),
  },
  {
    code: 'far_side_cleared',
    fields: ['farSideCombustibles'],
    changes: (c) =>
      when(c.farSideCombustibles === 'in_place', { farSideCombustibles: 'relocated' }),
  },
  {
    code: 'metal_parted',
    fields: ['pipeContactCombustible'],
    changes: (c) => when(c.pipeContactCombustible, { pipeContactCombustible: false }),
  },
  {
    code: 'duct_stopped',
    fields: ['ductOrConveyor'],
    changes: (c) =>
      when(c.ductOrConveyor === 'running_unprotected', {
        ductOrConveyor: 'shut_down_or_protected',
      }),
  },
  {
    code: 'sprinklers_restored',
    fields: ['sprinklerSystem'],
    changes: (c) => when(c.sprinklerSystem === 'impaired', { sprinklerSystem: 'in_service' }),
  },
  {
    code: 'air_good',
    fields: ['explosiveAtmospherePossible', 'oxygenPercent', 'lflPercent'],
    changes: (c) =>
      when(isAirBad(c), {
        explosiveAtmospherePossible: false,
        oxygenPercent: c.oxygenPercent === null ? null : NORMAL_OXYGEN_PCT,
        lflPercent: c.lflPercent === null ? null : 0,
      }),
  },
  {
    code: 'dust_cleaned',
    fields: ['dustAccumulation'],
    changes: (c) => when(c.dustAccumulation, { dustAccumulation: false }),
  },
  {
    code: 'painting_apart',
    fields: ['flammableFinishingNear'],
    changes: (c) => when(c.flammableFinishingNear, { flammableFinishingNear: false }),
  },
  {
    code: 'bulk_away',
    fields: ['bulkIgnitablesNear'],
    changes: (c) => when(c.bulkIgnitablesNear, { bulkIgnitablesNear: false }),
  },
  {
    code: 'others_kept_out',
    fields: ['openToOthers'],
    changes: (c) => when(c.openToOthers, { openToOthers: false }),
  },
  {
    code: 'extinguisher_brought',
    fields: ['extinguisher'],
    changes: (c) =>
      when(
        c.extinguisher.ratingA < 2 || c.extinguisher.ratingB < 20 || c.extinguisher.distanceFt > 30,
        { extinguisher: DEFAULT_CONDITIONS.extinguisher },
      ),
  },
  {
    code: 'program_covers',
    fields: ['ifcPortableIndoorCovered'],
    changes: (c) => when(!c.ifcPortableIndoorCovered, { ifcPortableIndoorCovered: true }),
  },
]

const PIECE_CURES: readonly Cure[] = [
  {
    code: 'container_cleaned',
    fields: ['container'],
    changes: (c) =>
      when(['used_uncleaned', 'flammable_liquid_tank'].includes(c.container), {
        container: 'used_cleaned_vented_tested',
      }),
  },
  {
    code: 'hollow_vented',
    fields: ['container'],
    changes: (c) => when(c.container === 'sealed_hollow', { container: 'vented_hollow' }),
  },
  {
    code: 'approved_crew',
    fields: ['crewApproved'],
    changes: (c) => when(!c.crewApproved, { crewApproved: true }),
  },
  {
    code: 'coating_stripped',
    fields: ['coating'],
    changes: (c) => when(c.coating !== 'none', { coating: 'none' }),
  },
  {
    code: 'out_of_the_space',
    fields: ['enclosed', 'confinedSpace', 'cylindersLocation'],
    changes: (c) =>
      when(c.enclosed || c.confinedSpace, {
        enclosed: false,
        confinedSpace: false,
        cylindersLocation: 'outside',
      }),
  },
  {
    code: 'cylinders_out',
    fields: ['cylindersLocation'],
    changes: (c) => when(c.cylindersLocation === 'inside', { cylindersLocation: 'outside' }),
  },
  {
    code: 'solvent_away',
    fields: ['chlorinatedSolventFt'],
    changes: (c) => when(c.chlorinatedSolventFt !== null, { chlorinatedSolventFt: null }),
  },
  {
    code: 'solvent_shielded',
    fields: ['solventShielded', 'chlorinatedSolventFt'],
    changes: (c) =>
      when(c.chlorinatedSolventFt !== null && !c.solventShielded, { solventShielded: true }),
  },
  {
    code: 'marine_chemist',
    fields: ['safeForHotWork', 'shipyardSpace'],
    changes: (c) =>
      when(c.safeForHotWork !== 'marine_chemist', { safeForHotWork: 'marine_chemist' }),
  },
  {
    code: 'competent_person',
    fields: ['safeForHotWork', 'shipyardSpace'],
    changes: (c) => when(c.safeForHotWork === 'nobody', { safeForHotWork: 'competent_person' }),
  },
]

/** Somebody who has no part in the permit yet. */
const ANOTHER = 'another'

const PAPER_CURES: readonly Cure[] = [
  {
    code: 'area_inspected',
    fields: ['inspectedBefore'],
    changes: (c) => when(!c.inspectedBefore, { inspectedBefore: true }),
  },
  {
    code: 'permit_written',
    fields: ['writtenPermit'],
    changes: (c) => when(!c.writtenPermit, { writtenPermit: true }),
  },
  {
    code: 'permit_filled_in',
    fields: ['permitFields'],
    changes: (c) =>
      when(Object.values(c.permitFields).includes(false), {
        permitFields: DEFAULT_CONDITIONS.permitFields,
      }),
  },
  {
    code: 'other_authoriser',
    fields: ['roles'],
    changes: (c) =>
      when(c.roles.operator !== null && c.roles.operator === c.roles.authoriser, {
        roles: { ...c.roles, authoriser: ANOTHER },
      }),
  },
  {
    code: 'other_watch',
    fields: ['roles'],
    changes: (c) =>
      when(c.roles.fireWatch === null || c.roles.fireWatch === c.roles.operator, {
        roles: { ...c.roles, fireWatch: ANOTHER },
      }),
  },
  {
    code: 'watch_relieved',
    fields: ['fireWatchOtherDuties'],
    changes: (c) => when(c.fireWatchOtherDuties, { fireWatchOtherDuties: false }),
  },
  {
    code: 'watch_trained',
    fields: ['fireWatchTrained'],
    changes: (c) => when(!c.fireWatchTrained, { fireWatchTrained: true }),
  },
  {
    code: 'all_in_one_view',
    fields: ['allExposuresVisibleToOneWatcher'],
    changes: (c) =>
      when(!c.allExposuresVisibleToOneWatcher, { allExposuresVisibleToOneWatcher: true }),
  },
]

/** Everything people can do, the smallest things first; taking the piece elsewhere comes last. */
export const CURES: readonly Cure[] = [
  ...PLACE_CURES,
  ...PIECE_CURES,
  ...PAPER_CURES,
  {
    code: 'designated_area',
    fields: [...OF_THE_PLACE, 'areaClass'],
    changes: (c) => when(c.areaClass !== 'designated', atTheDesignatedArea()),
  },
]

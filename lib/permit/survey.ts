import type { ConditionField, Conditions, HotWorkProcess, ShipyardSpace } from '../rules/conditions'
import { NEAR_LIMIT_FT } from '../rules/rows'

export const SURVEY_GROUPS = [
  'before',
  'piece',
  'beyond',
  'around',
  'air',
  'gear',
  'people',
] as const
export type SurveyGroup = (typeof SURVEY_GROUPS)[number]

/** done: looked and right. not_here: there is none. protected: dealt with. blocked: no work like this. */
export type SurveyMark = 'done' | 'not_here' | 'protected' | 'blocked'

/** What of an area does not change from day to day; confirmed on the spot, never the rest. */
export interface AreaFacts {
  indoors: boolean
  enclosed: boolean
  confinedSpace: boolean
  sprinklers: boolean
  detection: boolean
  floor: Conditions['floor']
  wall: Conditions['wall']
  levelFt: number
  /** Absent or `none` outside shipyards. */
  shipyardSpace?: ShipyardSpace
}

/** The area, and the work where that asks for items of its own; absent: an ordinary cut. */
export interface SurveyPlace extends AreaFacts {
  process?: HotWorkProcess
}

export type SurveyItemId =
  | 'since_last'
  | 'burn_ban'
  | 'tap_crew'
  | 'tap_plan'
  | 'tap_line'
  | 'wind'
  | 'drop_zone'
  | 'inside_piece'
  | 'coating'
  | 'far_side'
  | 'openings'
  | 'floor'
  | 'walls'
  | 'burnables'
  | 'ducts'
  | 'stores'
  | 'sprinklers'
  | 'detectors'
  | 'air'
  | 'cylinders'
  | 'extinguisher'
  | 'bystanders'
  | 'view'
  | 'ship_space'

/** What else an answer must say before it counts. */
export type SurveyDetail = 'what' | 'distanceFt' | 'cover' | 'windMph'

export interface SurveyAnswer {
  choice: string
  /** The thing itself, in the person's own words. */
  what?: string | undefined
  distanceFt?: number | undefined
  cover?: 'listed_pad' | 'rigid_cover' | undefined
  /** Anything further away that flying sparks would light, and how far. */
  sparksReachFt?: number | null | undefined
  windMph?: number | undefined
}

interface SurveyChoice {
  id: string
  mark: SurveyMark
  sets: (answer: SurveyAnswer) => Partial<Conditions>
  needs?: readonly SurveyDetail[]
  /** Something is disabled by it, and must be back before the permit closes. */
  impairs?: boolean
}

export interface SurveyItem {
  id: SurveyItemId
  group: SurveyGroup
  fields: readonly ConditionField[]
  /** The area's standing fact that is confirmed here; null: it can change, and is never prefilled. */
  needsStandingFact: keyof AreaFacts | null
  /** Left out where the area has no such thing. */
  isAsked?: (place: SurveyPlace) => boolean
  choices: readonly SurveyChoice[]
}

const sets = (conditions: Partial<Conditions>) => () => conditions

function opening(
  answer: SurveyAnswer,
  exposesCombustible: boolean,
  canClose: boolean,
): Partial<Conditions> {
  // An opening whose distance nobody measured counts as at the work.
  return {
    openings: [{ kind: 'wall', distanceFt: answer.distanceFt ?? 0, exposesCombustible, canClose }],
  }
}

/** What sparks would light beyond the limit matters more than what was moved out of it. */
function burnables(
  answer: SurveyAnswer,
  near: Conditions['combustibleState'],
): Partial<Conditions> {
  const farFt = answer.sparksReachFt
  if ((near === 'none' || near === 'movable') && typeof farFt === 'number') {
    return {
      combustibleState: 'in_place',
      nearestCombustibleFt: Math.max(farFt, NEAR_LIMIT_FT),
      easilyIgnitedBySparks: true,
    }
  }
  return {
    combustibleState: near,
    nearestCombustibleFt: near === 'none' ? null : (answer.distanceFt ?? 0),
    easilyIgnitedBySparks: typeof farFt === 'number',
  }
}

/** Asked before anything is looked at, since it says where to look. */
const BEFORE: readonly SurveyItem[] = [
  {
    id: 'since_last',
    group: 'before',
    fields: ['inspectedBefore'],
    needsStandingFact: null,
    choices: [
      { id: 'changed', mark: 'protected', needs: ['what'], sets: sets({}) },
      { id: 'nothing_seen', mark: 'done', sets: sets({}) },
      { id: 'first_time', mark: 'not_here', sets: sets({}) },
    ],
  },
]

const PIECE: readonly SurveyItem[] = [
  {
    id: 'inside_piece',
    group: 'piece',
    fields: ['container'],
    needsStandingFact: null,
    choices: [
      { id: 'solid', mark: 'not_here', sets: sets({ container: 'none' }) },
      { id: 'hollow_vented', mark: 'done', sets: sets({ container: 'vented_hollow' }) },
      {
        id: 'cleaned',
        mark: 'protected',
        needs: ['what'],
        sets: sets({ container: 'used_cleaned_vented_tested' }),
      },
      { id: 'live_line', mark: 'protected', sets: sets({ container: 'live_pipeline' }) },
      { id: 'hollow_sealed', mark: 'blocked', sets: sets({ container: 'sealed_hollow' }) },
      { id: 'not_cleaned', mark: 'blocked', sets: sets({ container: 'used_uncleaned' }) },
      {
        id: 'tank_in_service',
        mark: 'blocked',
        sets: sets({ container: 'flammable_liquid_tank' }),
      },
    ],
  },
  {
    id: 'coating',
    group: 'piece',
    fields: ['coating'],
    needsStandingFact: null,
    choices: [
      { id: 'bare', mark: 'not_here', sets: sets({ coating: 'none' }) },
      { id: 'stripped', mark: 'done', sets: sets({ coating: 'none' }) },
      { id: 'lead', mark: 'protected', sets: sets({ coating: 'lead_paint' }) },
      { id: 'galvanized', mark: 'protected', sets: sets({ coating: 'zinc' }) },
      { id: 'cadmium', mark: 'protected', sets: sets({ coating: 'cadmium' }) },
      { id: 'chromium', mark: 'protected', sets: sets({ coating: 'chromium' }) },
      { id: 'mercury', mark: 'protected', sets: sets({ coating: 'mercury' }) },
      { id: 'beryllium', mark: 'protected', sets: sets({ coating: 'beryllium' }) },
      { id: 'not_tested', mark: 'blocked', sets: sets({ coating: 'unknown' }) },
      { id: 'burns', mark: 'blocked', sets: sets({ coating: 'flammable' }) },
    ],
  },
]

const isTapped = (place: SurveyPlace) => place.process === 'hot_tapping'

/**
 * What a hot tap is asked on top. That only approved people do it: IFC 2018, 3504.1.7. A written plan,
 * and wall, pressure and flow as it wants them: common practice, no source.
 */
const HOT_TAP: readonly SurveyItem[] = [
  {
    id: 'tap_crew',
    group: 'piece',
    fields: ['crewApproved'],
    needsStandingFact: null,
    isAsked: isTapped,
    choices: [
      { id: 'approved', mark: 'protected', needs: ['what'], sets: sets({ crewApproved: true }) },
      { id: 'not_approved', mark: 'blocked', sets: sets({ crewApproved: false }) },
    ],
  },
  {
    id: 'tap_plan',
    group: 'piece',
    fields: ['crewApproved'],
    needsStandingFact: null,
    isAsked: isTapped,
    choices: [
      { id: 'written', mark: 'protected', needs: ['what'], sets: sets({}) },
      { id: 'none', mark: 'blocked', sets: sets({ crewApproved: false }) },
    ],
  },
  {
    id: 'tap_line',
    group: 'piece',
    fields: ['crewApproved'],
    needsStandingFact: null,
    isAsked: isTapped,
    choices: [
      { id: 'as_planned', mark: 'protected', needs: ['what'], sets: sets({}) },
      { id: 'not_as_planned', mark: 'blocked', sets: sets({ crewApproved: false }) },
    ],
  },
]

const BEYOND: readonly SurveyItem[] = [
  {
    id: 'far_side',
    group: 'beyond',
    fields: ['farSideCombustibles', 'pipeContactCombustible'],
    needsStandingFact: null,
    choices: [
      { id: 'nothing_burns', mark: 'done', sets: sets({ farSideCombustibles: 'none' }) },
      {
        id: 'cleared',
        mark: 'protected',
        needs: ['what'],
        sets: sets({ farSideCombustibles: 'relocated' }),
      },
      {
        id: 'watched',
        mark: 'protected',
        needs: ['what'],
        sets: sets({ farSideCombustibles: 'in_place' }),
      },
      {
        id: 'metal_touches',
        mark: 'blocked',
        sets: sets({ farSideCombustibles: 'in_place', pipeContactCombustible: true }),
      },
    ],
  },
  {
    id: 'openings',
    group: 'beyond',
    fields: ['openings'],
    needsStandingFact: null,
    choices: [
      { id: 'none', mark: 'not_here', sets: sets({ openings: [] }) },
      {
        id: 'covered',
        mark: 'protected',
        needs: ['what', 'distanceFt'],
        sets: (answer) => opening(answer, true, true),
      },
      {
        id: 'nothing_beyond',
        mark: 'done',
        needs: ['what', 'distanceFt'],
        sets: (answer) => opening(answer, false, false),
      },
      {
        id: 'watched_beyond',
        mark: 'protected',
        needs: ['what', 'distanceFt'],
        sets: (answer) => opening(answer, true, false),
      },
    ],
  },
]

/** Above ground what is cut, and its slag, comes down on somebody. */
const BELOW: readonly SurveyItem[] = [
  {
    id: 'drop_zone',
    group: 'beyond',
    fields: ['dropZone'],
    needsStandingFact: null,
    isAsked: (place) => place.levelFt > 0,
    choices: [
      { id: 'nobody_below', mark: 'done', sets: sets({ dropZone: 'none' }) },
      { id: 'barred', mark: 'protected', needs: ['what'], sets: sets({ dropZone: 'barred' }) },
      { id: 'open', mark: 'blocked', sets: sets({ dropZone: 'open' }) },
    ],
  },
]

const AROUND: readonly SurveyItem[] = [
  {
    id: 'floor',
    group: 'around',
    fields: ['floor', 'floorDebrisFt'],
    needsStandingFact: 'floor',
    choices: [
      { id: 'does_not_burn', mark: 'done', sets: sets({ floor: 'noncombustible' }) },
      { id: 'swept', mark: 'done', sets: sets({ floor: 'noncombustible', floorDebrisFt: 0 }) },
      { id: 'burns_protected', mark: 'protected', sets: sets({ floor: 'combustible' }) },
    ],
  },
  {
    id: 'walls',
    group: 'around',
    fields: ['wall'],
    needsStandingFact: 'wall',
    choices: [
      { id: 'do_not_burn', mark: 'done', sets: sets({ wall: 'noncombustible' }) },
      { id: 'metal', mark: 'done', sets: sets({ wall: 'metal' }) },
      { id: 'shielded', mark: 'protected', sets: sets({ wall: 'combustible' }) },
      { id: 'burnable_cover', mark: 'blocked', sets: sets({ wall: 'metal_combustible_covering' }) },
      { id: 'sandwich_panel', mark: 'blocked', sets: sets({ wall: 'sandwich_panel' }) },
    ],
  },
  {
    id: 'burnables',
    group: 'around',
    fields: ['combustibleState', 'nearestCombustibleFt', 'easilyIgnitedBySparks'],
    needsStandingFact: null,
    choices: [
      { id: 'none', mark: 'not_here', sets: (answer) => burnables(answer, 'none') },
      {
        id: 'moved',
        mark: 'done',
        needs: ['what', 'distanceFt'],
        sets: (answer) => burnables(answer, 'movable'),
      },
      {
        id: 'covered',
        mark: 'protected',
        needs: ['what', 'distanceFt', 'cover'],
        sets: (answer) => burnables(answer, 'covered'),
      },
      {
        id: 'neither',
        mark: 'blocked',
        needs: ['what', 'distanceFt'],
        sets: (answer) => burnables(answer, 'unprotectable'),
      },
    ],
  },
  {
    id: 'ducts',
    group: 'around',
    fields: ['ductOrConveyor'],
    needsStandingFact: null,
    choices: [
      { id: 'none', mark: 'not_here', sets: sets({ ductOrConveyor: 'none' }) },
      {
        id: 'shut_down',
        mark: 'protected',
        needs: ['what'],
        impairs: true,
        sets: sets({ ductOrConveyor: 'shut_down_or_protected' }),
      },
      {
        id: 'shielded',
        mark: 'protected',
        needs: ['what'],
        sets: sets({ ductOrConveyor: 'shut_down_or_protected' }),
      },
      { id: 'running', mark: 'blocked', sets: sets({ ductOrConveyor: 'running_unprotected' }) },
    ],
  },
  {
    id: 'stores',
    group: 'around',
    fields: ['bulkIgnitablesNear', 'dustAccumulation', 'flammableFinishingNear'],
    needsStandingFact: null,
    choices: [
      { id: 'none', mark: 'not_here', sets: sets({ bulkIgnitablesNear: false }) },
      { id: 'bulk', mark: 'blocked', sets: sets({ bulkIgnitablesNear: true }) },
      { id: 'dust', mark: 'blocked', sets: sets({ dustAccumulation: true }) },
      { id: 'painting', mark: 'blocked', sets: sets({ flammableFinishingNear: true }) },
    ],
  },
  {
    id: 'sprinklers',
    group: 'around',
    fields: ['sprinklerSystem', 'sprinklerHeadNear'],
    needsStandingFact: null,
    isAsked: (area) => area.sprinklers,
    choices: [
      { id: 'valve_open', mark: 'done', sets: sets({ sprinklerSystem: 'in_service' }) },
      {
        id: 'heads_shielded',
        mark: 'protected',
        impairs: true,
        sets: sets({ sprinklerSystem: 'in_service', sprinklerHeadNear: true }),
      },
      { id: 'valve_shut', mark: 'blocked', sets: sets({ sprinklerSystem: 'impaired' }) },
    ],
  },
  {
    id: 'detectors',
    group: 'around',
    fields: ['detectionNear'],
    needsStandingFact: null,
    isAsked: (area) => area.detection,
    choices: [
      { id: 'none_near', mark: 'not_here', sets: sets({ detectionNear: false }) },
      {
        id: 'shielded',
        mark: 'protected',
        needs: ['what'],
        impairs: true,
        sets: sets({ detectionNear: true }),
      },
    ],
  },
]

const AIR_GEAR_PEOPLE: readonly SurveyItem[] = [
  {
    id: 'burn_ban',
    group: 'air',
    fields: ['burnBan'],
    needsStandingFact: null,
    isAsked: (place) => !place.indoors,
    choices: [
      { id: 'none_today', mark: 'done', needs: ['what'], sets: sets({ burnBan: false }) },
      { id: 'in_force', mark: 'blocked', sets: sets({ burnBan: true }) },
      // What nobody asked about counts as in force.
      { id: 'not_asked', mark: 'blocked', sets: sets({ burnBan: true }) },
    ],
  },
  {
    id: 'wind',
    group: 'air',
    fields: ['windMph'],
    needsStandingFact: null,
    isAsked: (place) => !place.indoors,
    choices: [
      {
        id: 'measured',
        mark: 'done',
        needs: ['windMph'],
        sets: (answer) => ({ windMph: answer.windMph ?? null }),
      },
      { id: 'sheltered', mark: 'protected', needs: ['what'], sets: sets({ windMph: null }) },
      // A wind nobody measured counts as too strong.
      {
        id: 'not_measured',
        mark: 'blocked',
        sets: sets({ windMph: Number.POSITIVE_INFINITY }),
      },
    ],
  },
  {
    id: 'air',
    group: 'air',
    fields: ['explosiveAtmospherePossible', 'ventilation', 'chlorinatedSolventFt'],
    needsStandingFact: null,
    choices: [
      { id: 'open_air', mark: 'done', sets: sets({ ventilation: false }) },
      { id: 'ventilated', mark: 'protected', sets: sets({ ventilation: true }) },
      { id: 'vapour', mark: 'blocked', sets: sets({ explosiveAtmospherePossible: true }) },
      {
        id: 'solvent',
        mark: 'blocked',
        sets: (answer) => ({ chlorinatedSolventFt: answer.distanceFt ?? 0 }),
      },
    ],
  },
  {
    // 29 CFR 1915.14: tanks and what adjoins them wait for a marine chemist, the rest for a competent person.
    id: 'ship_space',
    group: 'air',
    fields: ['safeForHotWork', 'shipyardSpace'],
    needsStandingFact: null,
    isAsked: (area) => (area.shipyardSpace ?? 'none') !== 'none',
    choices: [
      {
        id: 'marine_chemist',
        mark: 'protected',
        needs: ['what'],
        sets: sets({ safeForHotWork: 'marine_chemist' }),
      },
      {
        id: 'competent_person',
        mark: 'protected',
        needs: ['what'],
        sets: sets({ safeForHotWork: 'competent_person' }),
      },
      { id: 'not_tested', mark: 'blocked', sets: sets({ safeForHotWork: 'nobody' }) },
    ],
  },
  {
    id: 'cylinders',
    group: 'gear',
    fields: ['cylindersLocation'],
    needsStandingFact: null,
    choices: [
      { id: 'secured_away', mark: 'done', sets: sets({ cylindersLocation: 'outside' }) },
      { id: 'shielded', mark: 'protected', sets: sets({ cylindersLocation: 'outside' }) },
      { id: 'inside', mark: 'blocked', sets: sets({ cylindersLocation: 'inside' }) },
    ],
  },
  {
    id: 'extinguisher',
    group: 'gear',
    fields: ['extinguisher'],
    needsStandingFact: null,
    choices: [
      {
        id: 'ready',
        mark: 'done',
        sets: sets({ extinguisher: { ratingA: 2, ratingB: 20, distanceFt: 30 } }),
      },
      {
        id: 'short',
        mark: 'blocked',
        sets: sets({ extinguisher: { ratingA: 0, ratingB: 0, distanceFt: 0 } }),
      },
    ],
  },
  {
    id: 'bystanders',
    group: 'people',
    fields: ['openToOthers'],
    needsStandingFact: null,
    choices: [
      { id: 'nobody', mark: 'not_here', sets: sets({ openToOthers: false }) },
      { id: 'sign_up', mark: 'protected', sets: sets({ openToOthers: true }) },
    ],
  },
  {
    id: 'view',
    group: 'people',
    fields: ['allExposuresVisibleToOneWatcher'],
    needsStandingFact: null,
    choices: [
      { id: 'one_sees_all', mark: 'done', sets: sets({ allExposuresVisibleToOneWatcher: true }) },
      {
        id: 'more_watchers',
        mark: 'protected',
        sets: sets({ allExposuresVisibleToOneWatcher: false }),
      },
    ],
  },
]

/** What changed since last time, then the walk: inside and behind the piece, the far side and below, around it, the air, the gear, the people. */
export const SURVEY_ITEMS: readonly SurveyItem[] = [
  ...BEFORE,
  ...PIECE,
  ...HOT_TAP,
  ...BEYOND,
  ...BELOW,
  ...AROUND,
  ...AIR_GEAR_PEOPLE,
]

/** The items that this area and this work ask, in walking order. */
export function surveyItems(place: SurveyPlace): readonly SurveyItem[] {
  return SURVEY_ITEMS.filter((item) => item.isAsked?.(place) ?? true)
}

/** The choice an answer names, or null when the item has no such choice. */
export function choiceOf(item: SurveyItem, answer: SurveyAnswer): SurveyChoice | null {
  return item.choices.find((choice) => choice.id === answer.choice) ?? null
}

/** The details that this answer still owes; an unknown choice owes everything. */
export function missingDetails(item: SurveyItem, answer: SurveyAnswer): readonly SurveyDetail[] {
  const choice = choiceOf(item, answer)
  if (!choice) return ['what', 'distanceFt', 'cover', 'windMph']
  return (choice.needs ?? []).filter((detail) => {
    const value = answer[detail]
    if (value === undefined || value === '') return true
    return typeof value === 'number' && !(Number.isFinite(value) && value >= 0)
  })
}

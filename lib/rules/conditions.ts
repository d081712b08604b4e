export type HotWorkProcess =
  | 'oxyfuel_cutting'
  | 'oxyfuel_gouging'
  | 'heating'
  | 'brazing'
  | 'gas_welding'
  | 'arc_welding'
  | 'mig_welding'
  | 'arc_gouging'
  | 'torch_roofing'
  | 'hot_tapping'

export type AreaClass = 'designated' | 'permit_required' | 'non_permissible'

/**
 * What stands near and can burn. `movable` and a closable opening are judged after the move;
 * `unprotected_open` stays uncovered by choice, `unprotectable` can be neither moved nor covered.
 */
export type CombustibleState =
  | 'none'
  | 'movable'
  | 'in_place'
  | 'covered'
  | 'unprotected_open'
  | 'unprotectable'
  | 'construction'

export type WallKind =
  | 'noncombustible'
  | 'combustible'
  | 'metal'
  | 'sandwich_panel'
  | 'metal_combustible_covering'

export type ContainerKind =
  | 'none'
  | 'used_uncleaned'
  | 'used_cleaned_vented_tested'
  | 'sealed_hollow'
  | 'vented_hollow'
  | 'flammable_liquid_tank'
  | 'live_pipeline'

export type CoatingKind =
  | 'none'
  | 'unknown'
  | 'flammable'
  | 'lead_paint'
  | 'cadmium'
  | 'mercury'
  | 'beryllium'
  | 'zinc'
  | 'chromium'

/** Where in a shipyard the work is; 29 CFR 1915.14 tells tanks and what adjoins them from the rest. */
export type ShipyardSpace = 'none' | 'tank_or_adjacent' | 'other_space'

/** Who tested the space that day and called it safe for hot work. */
export type SafeForHotWork = 'nobody' | 'competent_person' | 'marine_chemist'

/** Below work that is above ground: nobody can get there, it is barred and watched, or neither. */
export type DropZone = 'none' | 'barred' | 'open'

export interface Opening {
  kind: 'wall' | 'floor' | 'duct' | 'shaft'
  distanceFt: number
  exposesCombustible: boolean
  /** True when it is, or will be before the start, tightly closed or covered. */
  canClose: boolean
}

export interface ExtinguisherNear {
  /** The number before A and before B:C on the label (2-A:20-B:C is 2 and 20). */
  ratingA: number
  ratingB: number
  distanceFt: number
}

export interface PermitRoles {
  operator: string | null
  authoriser: string | null
  fireWatch: string | null
}

/** Everything about the work and its place that a ruleset may ask about. */
export interface Conditions {
  process: HotWorkProcess
  indoors: boolean
  enclosed: boolean
  areaClass: AreaClass
  areaAuthorized: boolean
  inspectedBefore: boolean
  writtenPermit: boolean
  coveredProcess: boolean
  sprinklerSystem: 'none' | 'in_service' | 'impaired'
  sprinklerHeadNear: boolean
  detectionNear: boolean
  explosiveAtmospherePossible: boolean
  dustAccumulation: boolean
  bulkIgnitablesNear: boolean
  flammableFinishingNear: boolean
  nearestCombustibleFt: number | null
  combustibleState: CombustibleState
  combustibleDirection: 'horizontal' | 'vertical'
  easilyIgnitedBySparks: boolean
  floor: 'noncombustible' | 'combustible'
  floorDebrisFt: number | null
  openings: readonly Opening[]
  wall: WallKind
  farSideCombustibles: 'none' | 'in_place' | 'relocated'
  pipeContactCombustible: boolean
  ductOrConveyor: 'none' | 'running_unprotected' | 'shut_down_or_protected'
  heightFt: number
  allExposuresVisibleToOneWatcher: boolean
  container: ContainerKind
  crewApproved: boolean
  confinedSpace: boolean
  oxygenPercent: number | null
  lflPercent: number | null
  ventilation: boolean
  cylindersLocation: 'outside' | 'inside'
  coating: CoatingKind
  chlorinatedSolventFt: number | null
  solventShielded: boolean
  openToOthers: boolean
  extinguisher: ExtinguisherNear
  roles: PermitRoles
  fireWatchOtherDuties: boolean
  fireWatchTrained: boolean
  permitFields: { dates: boolean; object: boolean; precautions: boolean }
  /** A construction permit or an approved programme covers portable equipment indoors (IFC). */
  ifcPortableIndoorCovered: boolean
  shipyardSpace: ShipyardSpace
  safeForHotWork: SafeForHotWork
  /** What may be hit by what comes down from work above ground. */
  dropZone: DropZone
  /** The operator is alone; the client's person watches and authorises. */
  loneOperator: boolean
  /** An authority forbids open burning here today. */
  burnBan: boolean
  /** As measured at the work, miles an hour; null where nobody measured or the work is sheltered. */
  windMph: number | null
}

export type ConditionField = keyof Conditions

/** A clear, ordinary permit area with three different people; a survey states what differs. */
export const DEFAULT_CONDITIONS: Conditions = {
  process: 'oxyfuel_cutting',
  indoors: true,
  enclosed: false,
  areaClass: 'permit_required',
  areaAuthorized: true,
  inspectedBefore: true,
  writtenPermit: true,
  coveredProcess: false,
  sprinklerSystem: 'none',
  sprinklerHeadNear: false,
  detectionNear: false,
  explosiveAtmospherePossible: false,
  dustAccumulation: false,
  bulkIgnitablesNear: false,
  flammableFinishingNear: false,
  nearestCombustibleFt: null,
  combustibleState: 'none',
  combustibleDirection: 'horizontal',
  easilyIgnitedBySparks: false,
  floor: 'noncombustible',
  floorDebrisFt: null,
  openings: [],
  wall: 'noncombustible',
  farSideCombustibles: 'none',
  pipeContactCombustible: false,
  ductOrConveyor: 'none',
  heightFt: 0,
  allExposuresVisibleToOneWatcher: true,
  container: 'none',
  // Of a hot tap, and unknown until somebody says so.
  crewApproved: false,
  confinedSpace: false,
  oxygenPercent: null,
  lflPercent: null,
  ventilation: false,
  cylindersLocation: 'outside',
  coating: 'none',
  chlorinatedSolventFt: null,
  solventShielded: false,
  openToOthers: false,
  extinguisher: { ratingA: 2, ratingB: 20, distanceFt: 10 },
  roles: { operator: 'p1', authoriser: 'p2', fireWatch: 'p3' },
  fireWatchOtherDuties: false,
  fireWatchTrained: true,
  permitFields: { dates: true, object: true, precautions: true },
  ifcPortableIndoorCovered: true,
  shipyardSpace: 'none',
  safeForHotWork: 'nobody',
  dropZone: 'none',
  loneOperator: false,
  burnBan: false,
  windMph: null,
}

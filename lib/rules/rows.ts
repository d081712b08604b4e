import type { RuleId } from './catalogue'
import type { ConditionField, Conditions, HotWorkProcess } from './conditions'
import type { Decision, LayerId, PrecautionId } from './types'
import { RULESET_IDS } from './types'

/** Contents nearer than this count as near; exactly at it they do not (29 CFR 1910.252(a)(2)(iii)(A)). */
export const NEAR_LIMIT_FT = 35
/** 15 m, the radius of AS 1674.1 (from memory), in feet of 0.3048 m. */
const FIFTEEN_METRES_FT = 15 / 0.3048
const SOLVENT_LIMIT_FT = 200

/**
 * One line of the table: when these conditions hold, these rules ask for these precautions,
 * decide so, and want a watch. Which layer a rule speaks for stands in the catalogue.
 * `house`: a layer without a rule on the point gets this strict default, shown as such.
 */
export interface Row {
  code: string
  fields: readonly [ConditionField, ...ConditionField[]]
  when: (c: Conditions) => boolean
  asks?: readonly (readonly [PrecautionId, readonly RuleId[]])[]
  decides?: Partial<Record<Decision, readonly RuleId[]>>
  house?: Partial<Record<LayerId, Decision>>
  watch?: { yes?: readonly RuleId[]; judgement?: readonly RuleId[] }
  /** The wording of one text, which the company's own layer does not follow. */
  isOneTextOnly?: boolean
  cure?: PrecautionId
}

/** A line that only speaks where a watch is needed; what it decides depends on how surely. */
export interface WatchRow {
  code: string
  fields: readonly [ConditionField, ...ConditionField[]]
  when: (c: Conditions) => boolean
  asks: readonly (readonly [PrecautionId, readonly RuleId[]])[]
  decides: Partial<Record<LayerId, { yes: Decision; judgement: Decision; ruleId: RuleId | null }>>
  cure?: PrecautionId
}

const ARC: ReadonlySet<HotWorkProcess> = new Set(['arc_welding', 'mig_welding', 'arc_gouging'])
const TORCH: ReadonlySet<HotWorkProcess> = new Set([
  'oxyfuel_cutting',
  'oxyfuel_gouging',
  'heating',
  'brazing',
  'gas_welding',
  'torch_roofing',
])
/** Work with an open gas flame, after which the company layer always watches. */
export function isTorchWork(process: HotWorkProcess): boolean {
  return TORCH.has(process)
}

const STAYS: ReadonlySet<Conditions['combustibleState']> = new Set([
  'in_place',
  'unprotected_open',
  'covered',
  'construction',
])
// A distance that nobody measured counts as near.
const isNear = (c: Conditions) =>
  c.nearestCombustibleFt === null || c.nearestCombustibleFt < NEAR_LIMIT_FT
const stays = (c: Conditions) => STAYS.has(c.combustibleState)
const distanceFt = (c: Conditions) => c.nearestCombustibleFt ?? 0
const openingsThatExpose = (c: Conditions) =>
  c.openings.filter((o) => o.exposesCombustible && !o.canClose)
const isConfined = (c: Conditions) => c.confinedSpace
const isOutOfRange = (value: number | null, min: number, max: number) =>
  value !== null && (value < min || value > max)

const WATCH_35: Row['watch'] = {
  yes: [
    'osha1910-fw-trigger-35ft',
    'osha1915-fw-triggers',
    'ifc-fw-required',
    'nfpa51b-fw-triggers',
    'au-as1674-fw-30',
  ],
  judgement: ['osha1926-fw-judgement'],
}
const MINOR_FIRE: Row['watch'] = {
  yes: [
    'osha1910-fw-trigger-minor-fire',
    'osha1915-fw-triggers',
    'ifc-fw-required',
    'nfpa51b-fw-triggers',
    'au-as1674-fw-30',
  ],
  judgement: ['osha1926-fw-judgement'],
}
const JUDGED_WATCH: Row['watch'] = {
  judgement: [
    'osha1910-fw-trigger-minor-fire',
    'osha1926-fw-judgement',
    'ifc-fw-required',
    'nfpa51b-fw-triggers',
    'au-as1674-fw-30',
  ],
}
const each = (ids: readonly LayerId[], decision: Decision): Partial<Record<LayerId, Decision>> =>
  Object.fromEntries(ids.map((id) => [id, decision]))
const EVERY_LAYER = (decision: Decision) => each(RULESET_IDS, decision)
const ABROAD = ['uk-jcop10', 'ca-nfc', 'au-as1674-1'] as const
const NFPA = ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'] as const

/** What every permit area is asked for; a designated area that stays fire-safe is not. */
export const PERMIT_AREA_ROWS: readonly Row[] = [
  {
    code: 'permit_area',
    fields: ['areaClass'],
    when: (c) => c.areaClass !== 'designated',
    asks: [
      [
        'inspect-area',
        [
          'osha1910-inspect-before-authorizing',
          'osha1915-nondesignated-inspection',
          'ifc-area-review-daily',
          'nfpa51b-pai-roles',
        ],
      ],
    ],
  },
  {
    code: 'extinguisher_at_work',
    fields: ['extinguisher'],
    when: () => true,
    asks: [
      ['extinguisher-ready', ['osha1910-extinguishing-ready', 'osha1926-extinguisher-immediate']],
      ['extinguisher-2A20BC-30ft', ['ifc-extinguisher-30ft']],
    ],
  },
]

const BURNS_ROWS: readonly Row[] = [
  {
    code: 'combustible_movable',
    fields: ['combustibleState', 'nearestCombustibleFt'],
    when: (c) =>
      isNear(c) && ['movable', 'in_place', 'unprotected_open'].includes(c.combustibleState),
    asks: [
      [
        'relocate-combustibles-35ft',
        ['osha1910-relocate-35', 'osha1926-move-or-protect', 'ifc-combustibles'],
      ],
    ],
  },
  {
    code: 'combustible_covered',
    fields: ['combustibleState', 'nearestCombustibleFt'],
    when: (c) =>
      isNear(c) && ['covered', 'in_place', 'unprotected_open'].includes(c.combustibleState),
    asks: [
      [
        'cover-or-shield-combustibles',
        ['osha1910-relocate-35', 'osha1926-confine-heat', 'ifc-combustibles'],
      ],
    ],
  },
  {
    code: 'combustible_unprotectable',
    fields: ['combustibleState', 'nearestCombustibleFt'],
    when: (c) => c.combustibleState === 'unprotectable' && isNear(c),
    decides: {
      forbidden: [
        'osha1910-restriction-no-work-if-neither',
        'osha1926-confine-heat',
        'ifc-combustibles',
        'nfpa51b-no-work-if-unprotected',
      ],
    },
    house: each(ABROAD, 'forbidden'),
    watch: WATCH_35,
    cure: 'relocate-combustibles-35ft',
  },
  {
    code: 'combustible_near',
    fields: ['nearestCombustibleFt', 'combustibleState'],
    when: (c) => stays(c) && isNear(c),
    watch: {
      yes: [
        'osha1910-fw-trigger-35ft',
        'ifc-fw-required',
        'nfpa51b-fw-triggers',
        'au-as1674-fw-30',
      ],
      judgement: ['osha1926-fw-judgement'],
    },
  },
  {
    // A shipyard needs no watch for what can be, and is, removed, covered or shielded.
    code: 'combustible_near_open',
    fields: ['combustibleState', 'nearestCombustibleFt'],
    when: (c) => ['unprotected_open', 'construction'].includes(c.combustibleState) && isNear(c),
    watch: { yes: ['osha1915-fw-distance-3d'] },
    isOneTextOnly: true,
  },
  {
    code: 'combustible_within_15m',
    fields: ['combustibleState', 'nearestCombustibleFt'],
    when: (c) =>
      (stays(c) || c.combustibleState === 'unprotectable') && distanceFt(c) <= FIFTEEN_METRES_FT,
    watch: { yes: ['au-as1674-fw-30'] },
    isOneTextOnly: true,
  },
  {
    code: 'combustible_unprotectable_15m',
    fields: ['combustibleState', 'nearestCombustibleFt'],
    when: (c) =>
      c.combustibleState === 'unprotectable' && !isNear(c) && distanceFt(c) <= FIFTEEN_METRES_FT,
    house: { 'au-as1674-1': 'judgement' },
    cure: 'relocate-combustibles-35ft',
  },
  {
    code: 'combustible_far_but_easy',
    fields: ['easilyIgnitedBySparks', 'nearestCombustibleFt', 'combustibleState'],
    when: (c) =>
      (stays(c) || c.combustibleState === 'unprotectable') &&
      distanceFt(c) > NEAR_LIMIT_FT &&
      c.easilyIgnitedBySparks,
    watch: {
      yes: [
        'osha1910-fw-trigger-far-but-easy',
        'ifc-fw-required',
        'nfpa51b-fw-triggers',
        'au-as1674-fw-30',
      ],
      judgement: ['osha1926-fw-judgement'],
    },
  },
  {
    code: 'combustible_at_limit_easy',
    fields: ['easilyIgnitedBySparks', 'nearestCombustibleFt', 'combustibleState'],
    when: (c) =>
      (stays(c) || c.combustibleState === 'unprotectable') &&
      distanceFt(c) === NEAR_LIMIT_FT &&
      c.easilyIgnitedBySparks,
    watch: {
      yes: ['ifc-fw-required'],
      judgement: ['osha1910-fw-trigger-minor-fire', 'osha1926-fw-judgement', 'nfpa51b-fw-triggers'],
    },
  },
  {
    // Neither construction nor the fire code has a 35 ft line: whatever stays, at any distance, is a judgement.
    code: 'combustible_anywhere',
    fields: ['combustibleState', 'nearestCombustibleFt'],
    when: (c) => stays(c) || c.combustibleState === 'unprotectable',
    watch: { judgement: ['osha1926-fw-judgement', 'ifc-fw-required', 'au-as1674-fw-30'] },
  },
  {
    code: 'floor_combustible',
    fields: ['floor'],
    when: (c) => c.floor === 'combustible',
    asks: [
      ['sweep-floor-35ft', ['osha1910-floor-sweep-35', 'ifc-housekeeping']],
      ['protect-combustible-floor', ['osha1910-combustible-floor']],
    ],
    watch: WATCH_35,
  },
  {
    code: 'floor_wet_arc',
    fields: ['floor', 'process'],
    when: (c) => c.floor === 'combustible' && ARC.has(c.process),
    asks: [['arc-shock-protection-wet-floor', ['osha1910-wet-floor-shock']]],
  },
  {
    code: 'floor_debris',
    fields: ['floorDebrisFt'],
    when: (c) => c.floorDebrisFt !== null && c.floorDebrisFt <= NEAR_LIMIT_FT,
    asks: [['sweep-floor-35ft', ['osha1910-floor-sweep-35', 'ifc-housekeeping']]],
  },
  {
    code: 'wall_combustible',
    fields: ['wall'],
    when: (c) => c.wall === 'combustible',
    asks: [
      [
        'shield-combustible-wall-ceiling',
        ['osha1910-combustible-walls', 'ifc-fixed-area-construction'],
      ],
    ],
    watch: WATCH_35,
  },
  {
    // The general industry text names welding; cutting is refused with it, since in doubt it is no.
    code: 'combustible_cover_on_metal',
    fields: ['wall'],
    when: (c) => c.wall === 'sandwich_panel' || c.wall === 'metal_combustible_covering',
    decides: { forbidden: ['osha1910-ban-combustible-cover', 'nfpa51b-ban-combustible-cover'] },
    house: each(['us-osha-1926', 'us-ifc-2018', ...ABROAD], 'judgement'),
    watch: MINOR_FIRE,
  },
  {
    code: 'pipe_touches_combustible',
    fields: ['pipeContactCombustible'],
    when: (c) => c.pipeContactCombustible,
    decides: { forbidden: ['osha1910-ban-pipe-contact', 'nfpa51b-ban-pipe-contact'] },
    house: each(['us-osha-1926', 'us-ifc-2018', ...ABROAD], 'judgement'),
    watch: MINOR_FIRE,
  },
]

const OPENING_ROWS: readonly Row[] = [
  {
    code: 'opening_near',
    fields: ['openings'],
    when: (c) => openingsThatExpose(c).some((o) => o.distanceFt <= NEAR_LIMIT_FT),
    asks: [['clear-below-and-beyond', ['osha1910-openings', 'osha1926-both-sides']]],
    watch: {
      yes: [
        'osha1910-fw-trigger-openings',
        'ifc-fw-required',
        'nfpa51b-fw-triggers',
        'au-as1674-fw-30',
      ],
      judgement: ['osha1926-fw-judgement'],
    },
  },
  {
    // The shipyard text sets no distance for openings that sparks can pass.
    code: 'opening_any_distance',
    fields: ['openings'],
    when: (c) => openingsThatExpose(c).length > 0,
    watch: { yes: ['osha1915-fw-triggers'] },
    isOneTextOnly: true,
  },
  {
    code: 'opening_within_15m',
    fields: ['openings'],
    when: (c) => openingsThatExpose(c).some((o) => o.distanceFt <= FIFTEEN_METRES_FT),
    watch: { yes: ['au-as1674-fw-30'] },
    isOneTextOnly: true,
  },
  {
    code: 'opening_beyond_limit',
    fields: ['openings'],
    when: (c) => openingsThatExpose(c).some((o) => o.distanceFt > NEAR_LIMIT_FT),
    watch: JUDGED_WATCH,
  },
  {
    code: 'opening',
    fields: ['openings'],
    when: (c) => c.openings.some((o) => o.exposesCombustible || o.distanceFt <= NEAR_LIMIT_FT),
    asks: [['close-or-guard-openings', ['osha1910-openings', 'ifc-openings']]],
  },
  {
    code: 'far_side',
    fields: ['farSideCombustibles', 'wall'],
    when: (c) => c.farSideCombustibles !== 'none',
    asks: [
      [
        'relocate-far-side-combustibles',
        ['osha1910-metal-walls', 'osha1926-both-sides', 'ifc-prework-check'],
      ],
    ],
  },
  {
    code: 'far_side_in_place',
    fields: ['farSideCombustibles', 'wall'],
    when: (c) => c.farSideCombustibles === 'in_place',
    asks: [
      [
        'watch-far-side',
        [
          'osha1910-fw-opposite-side',
          'osha1926-both-sides',
          'osha1915-fw-triggers',
          'uk-jcop10-far-side-10m',
        ],
      ],
    ],
    watch: {
      yes: [
        'osha1910-fw-trigger-far-side',
        'osha1915-fw-triggers',
        'ifc-fw-required',
        'nfpa51b-fw-triggers',
        'au-as1674-fw-30',
      ],
      judgement: ['osha1926-fw-judgement'],
    },
  },
  {
    code: 'duct_running',
    fields: ['ductOrConveyor'],
    when: (c) => c.ductOrConveyor === 'running_unprotected',
    decides: {
      forbidden_until_corrected: [
        'osha1910-ducts-conveyors',
        'ifc-conveyors',
        'nfpa51b-ducts-conveyors',
      ],
    },
    house: each(['us-osha-1926', 'us-osha-1915', ...ABROAD], 'judgement'),
    watch: { judgement: ['osha1926-fw-judgement', 'au-as1674-fw-30'] },
    cure: 'stop-or-protect-ducts-conveyors',
  },
  {
    code: 'duct_carries_sparks',
    fields: ['ductOrConveyor'],
    when: (c) => c.ductOrConveyor === 'running_unprotected',
    watch: { yes: ['osha1915-fw-triggers'] },
    isOneTextOnly: true,
  },
  {
    code: 'duct',
    fields: ['ductOrConveyor'],
    when: (c) => c.ductOrConveyor !== 'none',
    asks: [
      [
        'stop-or-protect-ducts-conveyors',
        ['osha1910-ducts-conveyors', 'ifc-conveyors', 'nfpa51b-ducts-conveyors'],
      ],
    ],
  },
]

const AREA_ROWS: readonly Row[] = [
  {
    code: 'sprinklers_impaired',
    fields: ['sprinklerSystem'],
    when: (c) => c.sprinklerSystem === 'impaired',
    asks: [
      [
        'restore-impairment-first',
        [
          'osha1910-ban-sprinkler-impaired',
          'osha1926-150-sprinkler-valves',
          'ifc-impairment-program',
          'nfpa51b-nonpermissible',
        ],
      ],
    ],
    decides: {
      forbidden: ['osha1910-ban-sprinkler-impaired'],
      forbidden_without_authority_approval: ['ifc-restricted-areas'],
      forbidden_unless_impairment_program: ['nfpa51b-nonpermissible'],
    },
    house: each(['us-osha-1926', 'us-osha-1915', ...ABROAD], 'not_addressed'),
    cure: 'restore-impairment-first',
  },
  {
    code: 'sprinklers_in_service',
    fields: ['sprinklerSystem'],
    when: (c) => c.sprinklerSystem === 'in_service',
    asks: [
      ['keep-sprinklers-in-service', ['ifc-sprinklers-stay-on', 'osha1926-150-sprinkler-valves']],
    ],
  },
  {
    code: 'sprinkler_head_near',
    fields: ['sprinklerHeadNear'],
    when: (c) => c.sprinklerHeadNear && c.sprinklerSystem !== 'none',
    asks: [['shield-sprinkler-heads', ['ifc-sprinklers-stay-on']]],
  },
  {
    code: 'detector_near',
    fields: ['detectionNear'],
    when: (c) => c.detectionNear,
    asks: [['protect-detectors', ['ifc-detector-precautions']]],
  },
  {
    code: 'area_not_authorized',
    fields: ['areaAuthorized', 'areaClass'],
    when: (c) => !c.areaAuthorized || c.areaClass === 'non_permissible',
    decides: {
      forbidden: ['osha1910-ban-unauthorized-area', 'ifc-authorized-areas', 'nfpa51b-area-classes'],
    },
    house: each(['us-osha-1926', 'us-osha-1915', ...ABROAD], 'forbidden'),
  },
  {
    code: 'explosive_atmosphere',
    fields: ['explosiveAtmospherePossible'],
    when: (c) => c.explosiveAtmospherePossible,
    asks: [['gas-test-before', ['csb-gas-monitoring']]],
    decides: {
      forbidden: [
        'osha1910-ban-explosive-atmosphere',
        'osha1926-ban-paint-compounds-dust',
        'nfpa51b-nonpermissible',
      ],
      forbidden_without_authority_approval: ['ifc-restricted-areas'],
    },
    house: each(['us-osha-1915', ...ABROAD], 'forbidden'),
    cure: 'gas-test-before',
  },
  {
    code: 'dust',
    fields: ['dustAccumulation'],
    when: (c) => c.dustAccumulation,
    asks: [['sweep-floor-35ft', ['osha1910-floor-sweep-35', 'ifc-housekeeping']]],
    decides: {
      forbidden_until_corrected: [
        'osha1910-ban-explosive-atmosphere',
        'osha1926-ban-paint-compounds-dust',
      ],
      forbidden_without_authority_approval: ['ifc-restricted-areas'],
    },
    house: each(['us-osha-1915', ...NFPA, ...ABROAD], 'forbidden_until_corrected'),
    cure: 'sweep-floor-35ft',
  },
  {
    code: 'flammable_finishing',
    fields: ['flammableFinishingNear'],
    when: (c) => c.flammableFinishingNear,
    decides: {
      forbidden_until_corrected: [
        'osha1910-ban-explosive-atmosphere',
        'osha1926-ban-paint-compounds-dust',
      ],
    },
    house: EVERY_LAYER('forbidden_until_corrected'),
  },
  {
    code: 'bulk_ignitables',
    fields: ['bulkIgnitablesNear'],
    when: (c) => c.bulkIgnitablesNear,
    decides: {
      forbidden: ['osha1910-ban-bulk-ignitables', 'nfpa51b-nonpermissible'],
      forbidden_without_authority_approval: ['ifc-restricted-areas'],
    },
    house: each(['us-osha-1926', 'us-osha-1915', ...ABROAD], 'judgement'),
    watch: {
      yes: ['osha1910-fw-trigger-minor-fire', 'ifc-fw-required', 'nfpa51b-fw-triggers'],
      judgement: ['osha1926-fw-judgement', 'osha1915-fw-triggers', 'au-as1674-fw-30'],
    },
  },
  {
    // Common practice, no source: what is cut off comes down, and slag before it.
    code: 'drop_zone_open',
    fields: ['dropZone'],
    when: (c) => c.dropZone === 'open',
    house: { company: 'forbidden_until_corrected' },
  },
  {
    // Common practice, no source: bans differ by county and day, and what one exempts another names.
    code: 'burn_ban_outdoors',
    fields: ['burnBan', 'indoors'],
    when: (c) => c.burnBan && !c.indoors,
    house: { company: 'forbidden' },
  },
  {
    code: 'open_to_others',
    fields: ['openToOthers'],
    when: (c) => c.openToOthers,
    asks: [['warning-sign', ['ifc-signage']]],
  },
  {
    code: 'extinguisher_short',
    fields: ['extinguisher'],
    when: (c) =>
      c.extinguisher.ratingA < 2 || c.extinguisher.ratingB < 20 || c.extinguisher.distanceFt > 30,
    decides: { forbidden_until_corrected: ['ifc-extinguisher-30ft'] },
    cure: 'extinguisher-2A20BC-30ft',
  },
  {
    code: 'torch_roof',
    fields: ['process'],
    when: (c) => c.process === 'torch_roofing',
    asks: [
      ['extinguisher-3A40BC-on-roof', ['ifc-roof-extinguisher']],
      ['operational-permit', ['ifc-operational-permit-triggers']],
    ],
    decides: { allowed_with_operational_permit: ['ifc-operational-permit-triggers'] },
    watch: MINOR_FIRE,
    cure: 'operational-permit',
  },
  {
    code: 'portable_indoors',
    fields: ['ifcPortableIndoorCovered', 'indoors'],
    when: (c) => c.indoors && !c.ifcPortableIndoorCovered,
    asks: [
      ['operational-permit', ['ifc-operational-permit-triggers', 'ifc-program-permits-scope']],
    ],
    decides: { allowed_with_operational_permit: ['ifc-operational-permit-triggers'] },
    cure: 'operational-permit',
  },
]

const PIECE_ROWS: readonly Row[] = [
  {
    code: 'container_uncleaned',
    fields: ['container'],
    when: (c) => c.container === 'used_uncleaned',
    decides: {
      forbidden_until_corrected: [
        'osha1910-used-containers',
        'osha1926-containers-clean',
        'ifc-containers',
      ],
    },
    house: EVERY_LAYER('forbidden_until_corrected'),
    cure: 'clean-purge-container',
  },
  {
    code: 'container_used',
    fields: ['container'],
    when: (c) =>
      ['used_uncleaned', 'used_cleaned_vented_tested', 'flammable_liquid_tank'].includes(
        c.container,
      ),
    asks: [
      [
        'clean-purge-container',
        ['osha1910-used-containers', 'osha1926-containers-clean', 'ifc-containers'],
      ],
      ['gas-test-before', ['osha1926-containers-clean', 'csb-gas-monitoring']],
    ],
  },
  {
    code: 'hollow_sealed',
    fields: ['container'],
    when: (c) => c.container === 'sealed_hollow',
    decides: { forbidden_until_corrected: ['osha1910-vent-hollow', 'osha1926-containers-vent'] },
    house: EVERY_LAYER('forbidden_until_corrected'),
    cure: 'vent-hollow',
  },
  {
    code: 'hollow',
    fields: ['container'],
    when: (c) =>
      ['sealed_hollow', 'vented_hollow', 'used_uncleaned', 'used_cleaned_vented_tested'].includes(
        c.container,
      ),
    asks: [['vent-hollow', ['osha1910-vent-hollow', 'osha1926-containers-vent']]],
  },
  {
    code: 'tank_in_service',
    fields: ['container'],
    when: (c) => c.container === 'flammable_liquid_tank',
    asks: [['gas-test-during', ['ifc-tank-seven-steps', 'csb-gas-monitoring']]],
    decides: {
      forbidden: ['osha1910-used-containers', 'osha1926-containers-clean'],
      forbidden_until_corrected: ['ifc-tank-seven-steps'],
    },
    house: each(['us-osha-1915', ...NFPA, ...ABROAD], 'forbidden'),
    cure: 'clean-purge-container',
  },
  {
    code: 'live_line',
    fields: ['container', 'process'],
    when: (c) => c.container === 'live_pipeline' || c.process === 'hot_tapping',
    asks: [
      ['qualified-hot-tap-crew', ['ifc-hot-tapping', 'osha1926-gas-pipelines']],
      ['gas-test-before', ['csb-gas-monitoring']],
      ['gas-test-during', ['csb-gas-monitoring']],
    ],
    watch: MINOR_FIRE,
  },
  {
    code: 'live_line_crew',
    fields: ['crewApproved', 'container', 'process'],
    when: (c) =>
      (c.container === 'live_pipeline' || c.process === 'hot_tapping') &&
      (!c.crewApproved || c.process !== 'hot_tapping'),
    decides: { forbidden: ['ifc-hot-tapping', 'osha1926-gas-pipelines'] },
    house: EVERY_LAYER('forbidden'),
    cure: 'qualified-hot-tap-crew',
  },
  {
    code: 'coating_unknown',
    fields: ['coating'],
    when: (c) => c.coating === 'unknown' || c.coating === 'flammable',
    asks: [['test-coating-flammability', ['osha1926-coating-flammability-test']]],
    decides: { forbidden_until_corrected: ['osha1926-coating-flammability-test'] },
    cure: 'test-coating-flammability',
  },
  {
    code: 'coating_toxic_open',
    fields: ['coating', 'enclosed'],
    when: (c) => !c.enclosed && ['lead_paint', 'cadmium', 'mercury'].includes(c.coating),
    asks: [
      [
        'filter-respirator',
        ['osha1926-toxic-metals-open-air', 'osha1926-lead-torch-respirator-apf50'],
      ],
    ],
  },
  {
    code: 'coating_toxic_enclosed',
    fields: ['coating', 'enclosed'],
    when: (c) => c.enclosed && ['lead_paint', 'cadmium', 'mercury'].includes(c.coating),
    asks: [
      ['local-exhaust-or-airline', ['osha1926-lead-cadmium-mercury-enclosed']],
      ['strip-coating-4in', ['osha1926-toxic-coating-4in']],
    ],
  },
  {
    code: 'coating_lead',
    fields: ['coating'],
    when: (c) => c.coating === 'lead_paint',
    asks: [['lead-interim-protection', ['osha1926-lead-task-2500']]],
  },
  {
    code: 'beryllium_open',
    fields: ['coating', 'enclosed'],
    when: (c) => c.coating === 'beryllium' && !c.enclosed,
    asks: [['airline-respirator', ['osha1926-toxic-metals-open-air']]],
  },
  {
    code: 'beryllium_enclosed',
    fields: ['coating', 'enclosed'],
    when: (c) => c.coating === 'beryllium' && c.enclosed,
    asks: [['local-exhaust-and-airline', ['osha1926-lead-cadmium-mercury-enclosed']]],
  },
  {
    code: 'zinc_or_chromium_enclosed',
    fields: ['coating', 'enclosed'],
    when: (c) => c.enclosed && (c.coating === 'zinc' || c.coating === 'chromium'),
    asks: [['ventilate-general-or-local', ['osha1926-zinc-lead-chromium-enclosed']]],
  },
]

const NO_CYLINDERS_INSIDE: readonly RuleId[] = [
  'osha1910-no-cylinders-confined',
  'osha1926-no-cylinders-confined',
  'osha1915-no-cylinders-confined',
]

const AIR_ROWS: readonly Row[] = [
  {
    code: 'confined_space',
    fields: ['confinedSpace'],
    when: isConfined,
    asks: [
      ['gas-test-before', ['osha-cs-test-order']],
      ['gas-test-during', ['osha-cs-continuous-monitoring']],
      ['entry-permit', ['osha-cs-permit-signature', 'osha-cs-links-hot-work']],
      ['outside-attendant', ['osha1926-confined-attendant']],
      ['ventilate-or-airline', ['osha1926-confined-ventilation']],
      ['cylinders-outside', NO_CYLINDERS_INSIDE],
      [
        'gas-off-outside-when-idle',
        ['osha1910-torch-valve-off-outside', 'osha1926-gas-off-outside'],
      ],
    ],
  },
  {
    code: 'cylinders_inside',
    fields: ['cylindersLocation', 'confinedSpace'],
    when: (c) => (c.confinedSpace || c.enclosed) && c.cylindersLocation === 'inside',
    asks: [['cylinders-outside', NO_CYLINDERS_INSIDE]],
    decides: { forbidden: NO_CYLINDERS_INSIDE },
    house: { ...each(['us-ifc-2018', ...ABROAD], 'judgement'), ...each(NFPA, 'forbidden') },
    cure: 'cylinders-outside',
  },
  {
    code: 'oxygen_out_of_range',
    fields: ['oxygenPercent'],
    when: (c) => isOutOfRange(c.oxygenPercent, 19.5, 23.5),
    asks: [['gas-test-before', ['osha-cs-oxygen-range']]],
    decides: { forbidden: ['osha1915-atmosphere-oxygen-enriched-22'] },
    house: {
      ...each(['us-osha-1910', 'us-osha-1926'], 'forbidden'),
      ...each(['us-ifc-2018', ...NFPA, ...ABROAD], 'judgement'),
    },
    watch: JUDGED_WATCH,
    cure: 'gas-test-before',
  },
  {
    // In a shipyard 22.0 % itself is enriched already; elsewhere up to 23.5 % is not.
    code: 'oxygen_enriched_shipyard',
    fields: ['oxygenPercent'],
    when: (c) => c.oxygenPercent !== null && c.oxygenPercent >= 22 && c.oxygenPercent <= 23.5,
    asks: [['gas-test-before', ['osha1915-atmosphere-oxygen-enriched-22']]],
    decides: { forbidden: ['osha1915-atmosphere-oxygen-enriched-22'] },
    cure: 'gas-test-before',
  },
  {
    code: 'flammable_gas',
    fields: ['lflPercent'],
    when: (c) => c.lflPercent !== null && c.lflPercent > 10,
    asks: [['gas-test-before', ['osha-cs-lfl-10']]],
    decides: {
      forbidden: [
        'osha1910-ban-explosive-atmosphere',
        'osha1915-atmosphere-flammable-10-lel',
        'nfpa51b-nonpermissible',
      ],
      forbidden_without_authority_approval: ['ifc-restricted-areas'],
    },
    house: each(['us-osha-1926', ...ABROAD], 'forbidden'),
    cure: 'gas-test-before',
  },
  {
    // In a shipyard 10 % of the lower explosive limit itself is too much already.
    code: 'flammable_gas_shipyard',
    fields: ['lflPercent'],
    when: (c) => c.lflPercent === 10,
    asks: [['gas-test-before', ['osha1915-atmosphere-flammable-10-lel']]],
    decides: { forbidden: ['osha1915-atmosphere-flammable-10-lel'] },
    cure: 'gas-test-before',
  },
  {
    code: 'solvent_near',
    fields: ['chlorinatedSolventFt', 'solventShielded'],
    when: (c) =>
      c.chlorinatedSolventFt !== null &&
      c.chlorinatedSolventFt < SOLVENT_LIMIT_FT &&
      !c.solventShielded,
    decides: {
      judgement: ['osha1910-degreasing-vapours'],
      forbidden_until_corrected: ['osha1926-mig-solvent-200ft'],
    },
    house: each(['us-osha-1915', 'us-ifc-2018', ...NFPA, ...ABROAD], 'not_addressed'),
    cure: 'solvent-200ft-or-shield',
  },
  {
    code: 'solvent',
    fields: ['chlorinatedSolventFt'],
    when: (c) => c.chlorinatedSolventFt !== null && c.chlorinatedSolventFt < SOLVENT_LIMIT_FT,
    asks: [
      ['solvent-200ft-or-shield', ['osha1910-degreasing-vapours', 'osha1926-mig-solvent-200ft']],
    ],
  },
]

const SHIPYARD_ROWS: readonly Row[] = [
  {
    code: 'shipyard_tank',
    fields: ['shipyardSpace'],
    when: (c) => c.shipyardSpace === 'tank_or_adjacent',
    asks: [['marine-chemist-certificate', ['osha1915-marine-chemist-certificate']]],
  },
  {
    code: 'shipyard_tank_not_certified',
    fields: ['safeForHotWork', 'shipyardSpace'],
    when: (c) => c.shipyardSpace === 'tank_or_adjacent' && c.safeForHotWork !== 'marine_chemist',
    decides: { forbidden_until_corrected: ['osha1915-marine-chemist-certificate'] },
    cure: 'marine-chemist-certificate',
  },
  {
    code: 'shipyard_space',
    fields: ['shipyardSpace'],
    when: (c) => c.shipyardSpace === 'other_space',
    asks: [['competent-person-test', ['osha1915-competent-person-hot-work']]],
  },
  {
    code: 'shipyard_space_not_tested',
    fields: ['safeForHotWork', 'shipyardSpace'],
    when: (c) => c.shipyardSpace === 'other_space' && c.safeForHotWork === 'nobody',
    decides: { forbidden_until_corrected: ['osha1915-competent-person-hot-work'] },
    cure: 'competent-person-test',
  },
]

const PAPER_ROWS: readonly Row[] = [
  {
    code: 'not_inspected',
    fields: ['inspectedBefore'],
    when: (c) => !c.inspectedBefore && c.areaClass !== 'designated',
    decides: {
      forbidden_until_corrected: [
        'osha1910-inspect-before-authorizing',
        'osha1915-nondesignated-inspection',
        'ifc-area-review-daily',
        'nfpa51b-pai-roles',
      ],
    },
    house: each(['us-osha-1926', ...ABROAD], 'judgement'),
    cure: 'inspect-area',
  },
  {
    code: 'self_issued',
    fields: ['roles'],
    when: (c) => c.roles.operator !== null && c.roles.operator === c.roles.authoriser,
    asks: [['distinct-persons', ['nfpa51b-pai-not-operator']]],
    decides: { judgement: ['osha1910-supervisor-duties'], forbidden: ['nfpa51b-pai-not-operator'] },
    house: each(['us-osha-1926', 'us-osha-1915', 'us-ifc-2018', ...ABROAD], 'not_addressed'),
    cure: 'distinct-persons',
  },
  {
    // The client's person authorises besides watching; a watch without other duties rules that out.
    code: 'lone_operator',
    fields: ['loneOperator'],
    when: (c) => c.loneOperator,
    asks: [['sole-duty-watch', ['nfpa51b-sole-proprietor']]],
    decides: { forbidden: ['osha1915-fw-no-other-duties'] },
    cure: 'distinct-persons',
  },
  {
    code: 'covered_process_unwritten',
    fields: ['writtenPermit', 'coveredProcess'],
    when: (c) => c.coveredProcess && !c.writtenPermit,
    asks: [['new-permit', ['osha-psm-permit', 'ifc-prework-check', 'nfpa51b-permit-content']]],
    decides: { forbidden_until_corrected: ['ifc-prework-check', 'nfpa51b-permit-content'] },
    house: {
      ...each(['us-osha-1910', 'us-osha-1926'], 'forbidden_until_corrected'),
      ...each(['us-osha-1915', ...ABROAD], 'not_addressed'),
    },
    cure: 'new-permit',
  },
  {
    code: 'unwritten',
    fields: ['writtenPermit'],
    when: (c) => !c.coveredProcess && !c.writtenPermit && c.areaClass !== 'designated',
    asks: [['new-permit', ['ifc-prework-check', 'nfpa51b-permit-content']]],
    decides: {
      judgement: ['osha1910-written-permit-preferred'],
      forbidden_until_corrected: ['ifc-prework-check', 'nfpa51b-permit-content'],
    },
    house: each(['us-osha-1926', 'us-osha-1915', ...ABROAD], 'not_addressed'),
    cure: 'new-permit',
  },
  {
    code: 'covered_process_fields',
    fields: ['permitFields', 'coveredProcess'],
    when: (c) => c.coveredProcess && Object.values(c.permitFields).includes(false),
    asks: [['new-permit', ['osha-psm-permit']]],
    house: {
      ...each(['us-osha-1910', 'us-osha-1926'], 'forbidden_until_corrected'),
      ...each(['us-osha-1915', 'us-ifc-2018', ...NFPA, ...ABROAD], 'not_addressed'),
    },
    cure: 'new-permit',
  },
]

export const ROWS: readonly Row[] = [
  ...BURNS_ROWS,
  ...OPENING_ROWS,
  ...AREA_ROWS,
  ...PIECE_ROWS,
  ...AIR_ROWS,
  ...SHIPYARD_ROWS,
  ...PAPER_ROWS,
]

const judged = (ruleId: RuleId | null) =>
  ({ yes: 'judgement', judgement: 'judgement', ruleId }) as const
const blocksWhenSure = (ruleId: RuleId | null) =>
  ({ yes: 'forbidden_until_corrected', judgement: 'judgement', ruleId }) as const
const never = (ruleId: RuleId | null) =>
  ({ yes: 'forbidden', judgement: 'forbidden', ruleId }) as const
const silent = { yes: 'not_addressed', judgement: 'not_addressed', ruleId: null } as const
const forNfpa = <T>(decides: T) => ({
  'us-nfpa51b-2014': decides,
  'us-nfpa51b-2019': decides,
  'us-nfpa241-2022': decides,
})

export const WATCH_ROWS: readonly WatchRow[] = [
  {
    code: 'exposures_not_all_visible',
    fields: ['allExposuresVisibleToOneWatcher'],
    when: (c) => !c.allExposuresVisibleToOneWatcher,
    asks: [['extra-watchers', ['osha1910-fw-duties', 'ifc-fw-whole-area', 'nfpa51b-fw-triggers']]],
    decides: {},
  },
  {
    code: 'operator_is_watch',
    fields: ['roles'],
    when: (c) => c.roles.operator !== null && c.roles.operator === c.roles.fireWatch,
    asks: [
      [
        'distinct-persons',
        [
          'osha1926-fw-judgement',
          'osha1915-fw-no-other-duties',
          'nfpa51b-operator-not-firewatch',
          'uk-jcop10-fw-60',
        ],
      ],
    ],
    decides: {
      'us-osha-1910': judged(null),
      'us-osha-1926': never('osha1926-fw-judgement'),
      'us-osha-1915': never('osha1915-fw-no-other-duties'),
      'us-ifc-2018': judged(null),
      ...forNfpa(never('nfpa51b-operator-not-firewatch')),
      'uk-jcop10': never(null),
      'ca-nfc': judged(null),
      'au-as1674-1': judged(null),
    },
    cure: 'distinct-persons',
  },
  {
    code: 'watch_other_duties',
    fields: ['fireWatchOtherDuties'],
    when: (c) => c.fireWatchOtherDuties,
    asks: [
      [
        'sole-duty-watch',
        ['osha1915-fw-no-other-duties', 'ifc-fw-construction-sole-duty', 'nfpa51b-fw-other-tasks'],
      ],
    ],
    decides: {
      'us-osha-1910': judged(null),
      'us-osha-1926': judged(null),
      'us-osha-1915': blocksWhenSure('osha1915-fw-no-other-duties'),
      'us-ifc-2018': judged('ifc-fw-construction-sole-duty'),
      'uk-jcop10': judged(null),
      'ca-nfc': judged(null),
      'au-as1674-1': judged(null),
    },
    cure: 'sole-duty-watch',
  },
  {
    code: 'watch_not_named',
    fields: ['roles'],
    when: (c) => c.roles.fireWatch === null,
    asks: [],
    decides: {
      'us-osha-1910': blocksWhenSure('osha1910-fw-duties'),
      'us-osha-1926': blocksWhenSure('osha1926-fw-judgement'),
      'us-osha-1915': blocksWhenSure('osha1915-fw-triggers'),
      'us-ifc-2018': blocksWhenSure('ifc-prework-check'),
      ...forNfpa(blocksWhenSure('nfpa51b-fw-triggers')),
      'uk-jcop10': blocksWhenSure('uk-jcop10-fw-60'),
      'ca-nfc': blocksWhenSure('ca-nfc-fw-60-inspect-240'),
      'au-as1674-1': blocksWhenSure('au-as1674-hazardous-area-roles'),
      company: blocksWhenSure(null),
    },
    cure: 'fire-watch',
  },
  {
    code: 'watch_not_trained',
    fields: ['fireWatchTrained'],
    when: (c) => !c.fireWatchTrained,
    asks: [],
    decides: {
      'us-osha-1910': blocksWhenSure('osha1910-fw-duties'),
      'us-osha-1926': blocksWhenSure('osha1926-fw-instructed'),
      'us-osha-1915': judged('osha1915-training-records'),
      'us-ifc-2018': blocksWhenSure('ifc-fw-duties-training'),
      ...forNfpa(blocksWhenSure('nfpa51b-fw-trained')),
      'uk-jcop10': silent,
      'ca-nfc': silent,
      'au-as1674-1': silent,
      company: blocksWhenSure(null),
    },
    cure: 'fire-watch',
  },
]

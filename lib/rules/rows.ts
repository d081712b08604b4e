import type { RuleId } from './catalogue'
import type { ConditionField, Conditions, HotWorkProcess } from './conditions'
import type { Decision, LayerId, PrecautionId } from './types'

/** Contents nearer than this count as near; exactly at it they do not (29 CFR 1910.252(a)(2)(iii)(A)). */
export const NEAR_LIMIT_FT = 35
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
  yes: ['osha1910-fw-trigger-35ft', 'ifc-fw-required', 'nfpa51b-fw-triggers'],
  judgement: ['osha1926-fw-judgement'],
}
const MINOR_FIRE: Row['watch'] = {
  yes: ['osha1910-fw-trigger-minor-fire', 'ifc-fw-required', 'nfpa51b-fw-triggers'],
  judgement: ['osha1926-fw-judgement'],
}
const JUDGED_WATCH: Row['watch'] = {
  judgement: [
    'osha1910-fw-trigger-minor-fire',
    'osha1926-fw-judgement',
    'ifc-fw-required',
    'nfpa51b-fw-triggers',
  ],
}
const EVERY_LAYER = (decision: Decision): Partial<Record<LayerId, Decision>> => ({
  'us-osha-1910': decision,
  'us-osha-1926': decision,
  'us-ifc-2018': decision,
  'us-nfpa51b-2014': decision,
  'us-nfpa51b-2019': decision,
})

/** What every permit area is asked for; a designated area that stays fire-safe is not. */
export const PERMIT_AREA_ROWS: readonly Row[] = [
  {
    code: 'permit_area',
    fields: ['areaClass'],
    when: (c) => c.areaClass !== 'designated',
    asks: [
      [
        'inspect-area',
        ['osha1910-inspect-before-authorizing', 'ifc-area-review-daily', 'nfpa51b-pai-roles'],
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
    watch: WATCH_35,
    cure: 'relocate-combustibles-35ft',
  },
  {
    code: 'combustible_near',
    fields: ['nearestCombustibleFt', 'combustibleState'],
    when: (c) => stays(c) && isNear(c),
    watch: WATCH_35,
  },
  {
    code: 'combustible_far_but_easy',
    fields: ['easilyIgnitedBySparks', 'nearestCombustibleFt', 'combustibleState'],
    when: (c) =>
      (stays(c) || c.combustibleState === 'unprotectable') &&
      distanceFt(c) > NEAR_LIMIT_FT &&
      c.easilyIgnitedBySparks,
    watch: {
      yes: ['osha1910-fw-trigger-far-but-easy', 'ifc-fw-required', 'nfpa51b-fw-triggers'],
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
    watch: { judgement: ['osha1926-fw-judgement', 'ifc-fw-required'] },
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
    house: { 'us-osha-1926': 'judgement', 'us-ifc-2018': 'judgement' },
    watch: MINOR_FIRE,
  },
  {
    code: 'pipe_touches_combustible',
    fields: ['pipeContactCombustible'],
    when: (c) => c.pipeContactCombustible,
    decides: { forbidden: ['osha1910-ban-pipe-contact', 'nfpa51b-ban-pipe-contact'] },
    house: { 'us-osha-1926': 'judgement', 'us-ifc-2018': 'judgement' },
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
      yes: ['osha1910-fw-trigger-openings', 'ifc-fw-required', 'nfpa51b-fw-triggers'],
      judgement: ['osha1926-fw-judgement'],
    },
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
    asks: [['watch-far-side', ['osha1910-fw-opposite-side', 'osha1926-both-sides']]],
    watch: {
      yes: ['osha1910-fw-trigger-far-side', 'ifc-fw-required', 'nfpa51b-fw-triggers'],
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
    house: { 'us-osha-1926': 'judgement' },
    watch: { judgement: ['osha1926-fw-judgement'] },
    cure: 'stop-or-protect-ducts-conveyors',
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
    house: { 'us-osha-1926': 'not_addressed' },
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
    house: { 'us-osha-1926': 'forbidden' },
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
    house: {
      'us-nfpa51b-2014': 'forbidden_until_corrected',
      'us-nfpa51b-2019': 'forbidden_until_corrected',
    },
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
    house: { 'us-osha-1926': 'judgement' },
    watch: MINOR_FIRE,
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
    house: { 'us-nfpa51b-2014': 'forbidden', 'us-nfpa51b-2019': 'forbidden' },
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
      ['cylinders-outside', ['osha1910-no-cylinders-confined', 'osha1926-no-cylinders-confined']],
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
    asks: [
      ['cylinders-outside', ['osha1910-no-cylinders-confined', 'osha1926-no-cylinders-confined']],
    ],
    decides: { forbidden: ['osha1910-no-cylinders-confined', 'osha1926-no-cylinders-confined'] },
    house: {
      'us-ifc-2018': 'judgement',
      'us-nfpa51b-2014': 'forbidden',
      'us-nfpa51b-2019': 'forbidden',
    },
    cure: 'cylinders-outside',
  },
  {
    code: 'oxygen_out_of_range',
    fields: ['oxygenPercent'],
    when: (c) => isOutOfRange(c.oxygenPercent, 19.5, 23.5),
    asks: [['gas-test-before', ['osha-cs-oxygen-range']]],
    house: {
      'us-osha-1910': 'forbidden',
      'us-osha-1926': 'forbidden',
      'us-ifc-2018': 'judgement',
      'us-nfpa51b-2014': 'judgement',
      'us-nfpa51b-2019': 'judgement',
    },
    watch: JUDGED_WATCH,
    cure: 'gas-test-before',
  },
  {
    code: 'flammable_gas',
    fields: ['lflPercent'],
    when: (c) => c.lflPercent !== null && c.lflPercent > 10,
    asks: [['gas-test-before', ['osha-cs-lfl-10']]],
    decides: {
      forbidden: ['osha1910-ban-explosive-atmosphere', 'nfpa51b-nonpermissible'],
      forbidden_without_authority_approval: ['ifc-restricted-areas'],
    },
    house: { 'us-osha-1926': 'forbidden' },
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
    house: {
      'us-ifc-2018': 'not_addressed',
      'us-nfpa51b-2014': 'not_addressed',
      'us-nfpa51b-2019': 'not_addressed',
    },
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

const PAPER_ROWS: readonly Row[] = [
  {
    code: 'not_inspected',
    fields: ['inspectedBefore'],
    when: (c) => !c.inspectedBefore && c.areaClass !== 'designated',
    decides: {
      forbidden_until_corrected: [
        'osha1910-inspect-before-authorizing',
        'ifc-area-review-daily',
        'nfpa51b-pai-roles',
      ],
    },
    house: { 'us-osha-1926': 'judgement' },
    cure: 'inspect-area',
  },
  {
    code: 'self_issued',
    fields: ['roles'],
    when: (c) => c.roles.operator !== null && c.roles.operator === c.roles.authoriser,
    asks: [['distinct-persons', ['nfpa51b-pai-not-operator']]],
    decides: { judgement: ['osha1910-supervisor-duties'], forbidden: ['nfpa51b-pai-not-operator'] },
    house: { 'us-osha-1926': 'not_addressed', 'us-ifc-2018': 'not_addressed' },
    cure: 'distinct-persons',
  },
  {
    code: 'covered_process_unwritten',
    fields: ['writtenPermit', 'coveredProcess'],
    when: (c) => c.coveredProcess && !c.writtenPermit,
    asks: [['new-permit', ['osha-psm-permit', 'ifc-prework-check', 'nfpa51b-permit-content']]],
    decides: { forbidden_until_corrected: ['ifc-prework-check', 'nfpa51b-permit-content'] },
    house: {
      'us-osha-1910': 'forbidden_until_corrected',
      'us-osha-1926': 'forbidden_until_corrected',
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
    house: { 'us-osha-1926': 'not_addressed' },
    cure: 'new-permit',
  },
  {
    code: 'covered_process_fields',
    fields: ['permitFields', 'coveredProcess'],
    when: (c) => c.coveredProcess && Object.values(c.permitFields).includes(false),
    asks: [['new-permit', ['osha-psm-permit']]],
    house: {
      'us-osha-1910': 'forbidden_until_corrected',
      'us-osha-1926': 'forbidden_until_corrected',
      'us-ifc-2018': 'not_addressed',
      'us-nfpa51b-2014': 'not_addressed',
      'us-nfpa51b-2019': 'not_addressed',
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
  ...PAPER_ROWS,
]

const judgedEverywhere = { yes: 'judgement', judgement: 'judgement' } as const
const blocksWhenSure = { yes: 'forbidden_until_corrected', judgement: 'judgement' } as const
const never = { yes: 'forbidden', judgement: 'forbidden' } as const

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
    asks: [['distinct-persons', ['osha1926-fw-judgement', 'nfpa51b-operator-not-firewatch']]],
    decides: {
      'us-osha-1910': { ...judgedEverywhere, ruleId: null },
      'us-osha-1926': { ...never, ruleId: 'osha1926-fw-judgement' },
      'us-ifc-2018': { ...judgedEverywhere, ruleId: null },
      'us-nfpa51b-2014': { ...never, ruleId: 'nfpa51b-operator-not-firewatch' },
      'us-nfpa51b-2019': { ...never, ruleId: 'nfpa51b-operator-not-firewatch' },
    },
    cure: 'distinct-persons',
  },
  {
    code: 'watch_other_duties',
    fields: ['fireWatchOtherDuties'],
    when: (c) => c.fireWatchOtherDuties,
    asks: [['sole-duty-watch', ['ifc-fw-construction-sole-duty', 'nfpa51b-fw-other-tasks']]],
    decides: {
      'us-osha-1910': { ...judgedEverywhere, ruleId: null },
      'us-osha-1926': { ...judgedEverywhere, ruleId: null },
      'us-ifc-2018': { ...judgedEverywhere, ruleId: 'ifc-fw-construction-sole-duty' },
    },
    cure: 'sole-duty-watch',
  },
  {
    code: 'watch_not_named',
    fields: ['roles'],
    when: (c) => c.roles.fireWatch === null,
    asks: [],
    decides: {
      'us-osha-1910': { ...blocksWhenSure, ruleId: 'osha1910-fw-duties' },
      'us-osha-1926': { ...blocksWhenSure, ruleId: 'osha1926-fw-judgement' },
      'us-ifc-2018': { ...blocksWhenSure, ruleId: 'ifc-prework-check' },
      'us-nfpa51b-2014': { ...blocksWhenSure, ruleId: 'nfpa51b-fw-triggers' },
      'us-nfpa51b-2019': { ...blocksWhenSure, ruleId: 'nfpa51b-fw-triggers' },
      company: { ...blocksWhenSure, ruleId: null },
    },
    cure: 'fire-watch',
  },
  {
    code: 'watch_not_trained',
    fields: ['fireWatchTrained'],
    when: (c) => !c.fireWatchTrained,
    asks: [],
    decides: {
      'us-osha-1910': { ...blocksWhenSure, ruleId: 'osha1910-fw-duties' },
      'us-osha-1926': { ...blocksWhenSure, ruleId: 'osha1926-fw-instructed' },
      'us-ifc-2018': { ...blocksWhenSure, ruleId: 'ifc-fw-duties-training' },
      'us-nfpa51b-2014': { ...blocksWhenSure, ruleId: 'nfpa51b-fw-trained' },
      'us-nfpa51b-2019': { ...blocksWhenSure, ruleId: 'nfpa51b-fw-trained' },
      company: { ...blocksWhenSure, ruleId: null },
    },
    cure: 'fire-watch',
  },
]

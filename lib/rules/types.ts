import type { RuleId } from './catalogue'
import type { ConditionField } from './conditions'

/** Strictest first. The first four block; a judgement is answered by a named person. */
export const DECISION_ORDER = [
  'forbidden',
  'forbidden_without_authority_approval',
  'forbidden_unless_impairment_program',
  'forbidden_until_corrected',
  'judgement',
  'not_addressed',
  'allowed_with_operational_permit',
  'allowed_with_precautions',
  'allowed_without_job_permit',
  'allowed',
] as const
export type Decision = (typeof DECISION_ORDER)[number]

export type WatchNeed = 'yes' | 'judgement' | 'no' | 'not_applicable'

export const RULESET_IDS = [
  'us-osha-1910',
  'us-osha-1926',
  'us-osha-1915',
  'us-ifc-2018',
  'us-nfpa51b-2014',
  'us-nfpa51b-2019',
  'us-nfpa241-2022',
  'uk-jcop10',
  'ca-nfc',
  'au-as1674-1',
] as const
export type RulesetId = (typeof RULESET_IDS)[number]
/** A ruleset that an administrator typed in; what follows the colon is its own short name. */
export type LocalRulesetId = `local:${string}`
export const COMPANY_LAYER_ID = 'company'
/** In force wherever the site is: the air of confined spaces. */
export const ALWAYS_LAYER_ID = 'always'
export type LayerId = RulesetId | LocalRulesetId | typeof COMPANY_LAYER_ID | typeof ALWAYS_LAYER_ID

export const PRECAUTION_IDS = [
  'inspect-area',
  'relocate-combustibles-35ft',
  'cover-or-shield-combustibles',
  'sweep-floor-35ft',
  'protect-combustible-floor',
  'arc-shock-protection-wet-floor',
  'close-or-guard-openings',
  'clear-below-and-beyond',
  'shield-combustible-wall-ceiling',
  'relocate-far-side-combustibles',
  'watch-far-side',
  'extra-watchers',
  'stop-or-protect-ducts-conveyors',
  'shield-sprinkler-heads',
  'keep-sprinklers-in-service',
  'protect-detectors',
  'restore-impairment-first',
  'gas-test-before',
  'gas-test-during',
  'clean-purge-container',
  'vent-hollow',
  'qualified-hot-tap-crew',
  'entry-permit',
  'outside-attendant',
  'ventilate-or-airline',
  'local-exhaust-or-airline',
  'local-exhaust-and-airline',
  'filter-respirator',
  'cylinders-outside',
  'gas-off-outside-when-idle',
  'test-coating-flammability',
  'strip-coating-4in',
  'lead-interim-protection',
  'solvent-200ft-or-shield',
  'extinguisher-2A20BC-30ft',
  'extinguisher-3A40BC-on-roof',
  'extinguisher-ready',
  'fire-watch',
  'distinct-persons',
  'sole-duty-watch',
  'operational-permit',
  'warning-sign',
  'reinspect-shift-or-day',
  'new-permit',
  'designated-area-checks',
  'ventilate-general-or-local',
  'airline-respirator',
  'final-check',
  'marine-chemist-certificate',
  'competent-person-test',
] as const
export type PrecautionId = (typeof PRECAUTION_IDS)[number]

/** Limits as data; null where the text gives no number. Minutes, hours and feet are in the names. */
export interface LayerParameters {
  /** A watch under every permit, whatever the conditions. */
  watchEveryPermit: boolean
  /** Minutes of maintained watch after the torch was last out. */
  postWatchMin: number | null
  /** The longer watch after a torch-applied roof. */
  torchRoofPostWatchMin: number | null
  /** A recorded survey that finds no further hazard ends this layer's own watch, no other's. */
  surveyMayEndWatch: boolean
  /** With no watch needed, someone still looks this long after the end. */
  finalCheckMin: number | null
  /** The most that may be set on top of the watch as monitoring; null where the text has none. */
  monitoringMaxMin: number | null
  /** Monitoring that the layer itself orders. */
  monitoringMin: number | null
  /** The longest time between two looks while monitoring. */
  monitoringCheckEveryMin: number | null
  /** A last look so long after the torch was out, watch or no watch. */
  finalLookAtMin: number | null
  /** The watch lasts until someone states that no fire is possible. */
  statementRequired: boolean
  capHours: number | null
  reinspectEveryHours: number | null
  reinspectEachShift: boolean
  /** Hoses and torch are looked at when each shift begins. */
  gearCheckEachShift: boolean
  gasOffAfterIdleMin: number | null
  /** How long a charged hose may lie alone in an enclosed space. */
  unattendedEnclosedMaxMin: number | null
  /** The same in a confined space, charged or not. */
  unattendedConfinedMaxMin: number | null
  keepRecordsHours: number | null
  roundIntervalMin: number | null
  breakLimitMin: number | null
  gasTestValidMin: number | null
  /** A gas test before every permit, not only where the conditions ask for one. */
  gasTestBeforeEveryPermit: boolean
  gasTestContinuousWhenEnclosed: boolean
  oxygenMinPct: number | null
  oxygenMaxPct: number | null
  /** This much oxygen already counts as enriched. */
  oxygenStopAtPct: number | null
  /** More than this stops the work; the value itself is still acceptable. */
  lelMaxPct: number | null
  /** This reading itself already stops the work. */
  lelStopAtPct: number | null
  enclosedOxygenMinPct: number | null
  enclosedOxygenMaxPct: number | null
  enclosedLelMaxPct: number | null
  coMaxPpm: number | null
  h2sMaxPpm: number | null
  paiOnSiteWithinMin: number | null
  /** More wind than this stops work in the open; the value itself is still acceptable. */
  windMaxMph: number | null
}
export type ParameterName = keyof LayerParameters

export interface Layer {
  id: LayerId
  /** Goes up with every change of the data; a permit stores id and version. */
  version: number
  label: string
  citation: string
  edition: string
  provenance: 'read' | 'partly_read' | 'memory' | 'house'
  /** How likely this layer's answers agree with the official text, 0 to 100; null for the house's own. */
  trustPct: number | null
  /** Why the trust is what it is: a message key under `rules.trust`. */
  trustWhy: string
  effectiveFrom: string
  effectiveTo: string | null
  parameters: LayerParameters
  /** Which rule of the layer sets a parameter; absent: a house default on the strict side. */
  parameterRules: Partial<Record<ParameterName, RuleId>>
  /** Precautions that the layer asks for under every permit; absent: none. */
  precautions?: readonly PrecautionId[]
}

/** Why a decision is what it is. `field` and `value` say which condition; `cure` is a message key. */
export interface EvaluationReason {
  code: string
  decision: Decision
  layerId: LayerId
  ruleId: string | null
  field: ConditionField
  value: string | number | boolean | null
  cure: PrecautionId | null
}

export interface PrecautionDue {
  id: PrecautionId
  rules: readonly string[]
  conditions: readonly ConditionField[]
}

export interface LayerEvaluation {
  layerId: LayerId
  decision: Decision
  required: WatchNeed
  postWatchMin: number | null
  closeEarliestMin: number | null
  /** The rule that sets the minutes of watch; null: a house default, or no minutes at all. */
  watchRuleId: string | null
  /** What of the watch a recorded survey does not end. */
  postWatchAfterSurveyMin: number | null
  finalLookAtMin: number | null
  statementRequired: boolean
  watchReasons: readonly {
    ruleId: string | null
    field: ConditionField
    need: 'yes' | 'judgement'
  }[]
  reasons: readonly EvaluationReason[]
  precautions: readonly PrecautionDue[]
}

export interface Evaluation {
  decision: Decision
  required: WatchNeed
  postWatchMin: number | null
  closeEarliestMin: number | null
  finalCheckMin: number | null
  monitoringMin: number
  monitoringMaxMin: number | null
  finalLookAtMin: number | null
  /** The minutes that stay when a survey finds no further hazard: of layers that let none count, all. */
  postWatchAfterSurveyMin: number | null
  statementRequired: boolean
  capHours: number | null
  roundIntervalMin: number | null
  precautions: readonly PrecautionDue[]
  reasons: readonly EvaluationReason[]
  perLayer: readonly LayerEvaluation[]
}

/** One resolved value and who set it; `layersAsked` is the 4 in "strictest of 4". */
export interface Resolved<T> {
  value: T
  setBy: readonly { layerId: LayerId; ruleId: string | null }[]
  layersAsked: number
}

export interface ResolvedParameters {
  layers: readonly { id: LayerId; version: number }[]
  watchMin: Resolved<number>
  /** The longest watch of the layers that let no survey end it; null where every layer watches to its end. */
  watchAfterSurveyMin: Resolved<number | null>
  statementRequired: Resolved<boolean>
  finalCheckMin: Resolved<number>
  monitoringMin: Resolved<number>
  monitoringMaxMin: Resolved<number | null>
  monitoringCheckEveryMin: Resolved<number | null>
  finalLookAtMin: Resolved<number>
  roundIntervalMin: Resolved<number>
  /** A round late by this much or more restarts the watch; always one round interval. */
  gapRestartMin: Resolved<number>
  breakLimitMin: Resolved<number>
  gasTestValidMin: Resolved<number>
  gasTestBeforeEveryPermit: Resolved<boolean>
  gasTestContinuousWhenEnclosed: Resolved<boolean>
  oxygenMinPct: Resolved<number>
  oxygenMaxPct: Resolved<number>
  oxygenStopAtPct: Resolved<number | null>
  lelMaxPct: Resolved<number>
  lelStopAtPct: Resolved<number | null>
  enclosedOxygenMinPct: Resolved<number>
  enclosedOxygenMaxPct: Resolved<number>
  enclosedLelMaxPct: Resolved<number>
  coMaxPpm: Resolved<number>
  h2sMaxPpm: Resolved<number>
  capHours: Resolved<number>
  paiOnSiteWithinMin: Resolved<number>
  reinspectEveryHours: Resolved<number | null>
  reinspectEachShift: Resolved<boolean>
  gearCheckEachShift: Resolved<boolean>
  gasOffAfterIdleMin: Resolved<number | null>
  unattendedEnclosedMaxMin: Resolved<number | null>
  unattendedConfinedMaxMin: Resolved<number | null>
  keepRecordsHours: Resolved<number | null>
  windMaxMph: Resolved<number | null>
}

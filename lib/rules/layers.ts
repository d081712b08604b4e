import type { RuleId } from './catalogue'
import type {
  Layer,
  LayerId,
  LayerParameters,
  LocalRulesetId,
  ParameterName,
  RulesetId,
} from './types'
import { ALWAYS_LAYER_ID, COMPANY_LAYER_ID } from './types'

/** A parameter that a text does not name. */
export const SILENT: LayerParameters = {
  watchEveryPermit: false,
  postWatchMin: null,
  torchRoofPostWatchMin: null,
  surveyMayEndWatch: false,
  finalCheckMin: null,
  monitoringMaxMin: null,
  monitoringMin: null,
  monitoringCheckEveryMin: null,
  finalLookAtMin: null,
  statementRequired: false,
  capHours: null,
  reinspectEveryHours: null,
  reinspectEachShift: false,
  gearCheckEachShift: false,
  gasOffAfterIdleMin: null,
  unattendedEnclosedMaxMin: null,
  unattendedConfinedMaxMin: null,
  keepRecordsHours: null,
  roundIntervalMin: null,
  breakLimitMin: null,
  gasTestValidMin: null,
  gasTestBeforeEveryPermit: false,
  gasTestContinuousWhenEnclosed: false,
  oxygenMinPct: null,
  oxygenMaxPct: null,
  oxygenStopAtPct: null,
  lelMaxPct: null,
  lelStopAtPct: null,
  enclosedOxygenMinPct: null,
  enclosedOxygenMaxPct: null,
  enclosedLelMaxPct: null,
  coMaxPpm: null,
  h2sMaxPpm: null,
  paiOnSiteWithinMin: null,
  windMaxMph: null,
}

const NFPA51B_RULES: Partial<Record<ParameterName, RuleId>> = {
  finalCheckMin: 'nfpa51b-final-check-30',
  capHours: 'nfpa51b-permit-24h',
  reinspectEachShift: 'nfpa51b-reinspect-each-shift',
}

/**
 * From when this program judges by each text. From memory: every one of them was in force by
 * then; which edition binds a site is the adopting authority's word, so a site lists its own.
 */
const IN_FORCE_FROM = '2019-01-01'

/** The published limits in force, as data. Trust: a second reader's estimate of agreement with the official text. */
export const RULESETS: Record<RulesetId, Layer> = {
  'us-osha-1910': {
    id: 'us-osha-1910',
    version: 1,
    label: 'OSHA general industry',
    citation: '29 CFR 1910.252(a)',
    edition: '29 CFR 1910 current text',
    provenance: 'partly_read',
    trustPct: 90,
    trustWhy: 'textOrAdoptionsRead',
    effectiveFrom: IN_FORCE_FROM,
    effectiveTo: null,
    parameters: { ...SILENT, postWatchMin: 30 },
    parameterRules: { postWatchMin: 'osha1910-fw-post-30' },
  },
  'us-osha-1926': {
    id: 'us-osha-1926',
    version: 1,
    label: 'OSHA construction',
    citation: '29 CFR 1926.352',
    edition: '29 CFR 1926, eCFR January 2025',
    provenance: 'read',
    trustPct: 85,
    trustWhy: 'judgementRowsAreConventions',
    effectiveFrom: IN_FORCE_FROM,
    effectiveTo: null,
    parameters: { ...SILENT, statementRequired: true, gearCheckEachShift: true },
    parameterRules: {
      statementRequired: 'osha1926-fw-open-ended',
      gearCheckEachShift: 'osha1926-hose-shift-inspection',
    },
  },
  'us-osha-1915': {
    id: 'us-osha-1915',
    version: 1,
    label: 'OSHA shipyards',
    citation: '29 CFR 1915.504, 1915.11 to .14',
    edition: '29 CFR 1915 current text',
    provenance: 'partly_read',
    trustPct: 80,
    trustWhy: 'mostOfFireWatchesRead',
    effectiveFrom: IN_FORCE_FROM,
    effectiveTo: null,
    parameters: {
      ...SILENT,
      postWatchMin: 30,
      surveyMayEndWatch: true,
      unattendedEnclosedMaxMin: 15,
      unattendedConfinedMaxMin: 0,
      oxygenMinPct: 19.5,
      oxygenStopAtPct: 22,
      lelStopAtPct: 10,
    },
    parameterRules: {
      postWatchMin: 'osha1915-fw-post-30-or-survey',
      surveyMayEndWatch: 'osha1915-fw-post-30-or-survey',
      unattendedEnclosedMaxMin: 'osha1915-unattended-hoses',
      unattendedConfinedMaxMin: 'osha1915-unattended-hoses',
      oxygenMinPct: 'osha1915-atmosphere-oxygen-enriched-22',
      oxygenStopAtPct: 'osha1915-atmosphere-oxygen-enriched-22',
      lelStopAtPct: 'osha1915-atmosphere-flammable-10-lel',
    },
  },
  'us-ifc-2018': {
    id: 'us-ifc-2018',
    version: 1,
    label: 'International Fire Code 2018, chapter 35',
    citation: 'IFC 2018 chapter 35',
    edition: 'IFC 2018 (read in the 2020 Minnesota adoption)',
    provenance: 'read',
    trustPct: 90,
    trustWhy: 'textOrAdoptionsRead',
    effectiveFrom: IN_FORCE_FROM,
    effectiveTo: null,
    parameters: {
      ...SILENT,
      postWatchMin: 30,
      reinspectEveryHours: 24,
      gasOffAfterIdleMin: 60,
      keepRecordsHours: 48,
    },
    parameterRules: {
      postWatchMin: 'ifc-fw-post-30',
      reinspectEveryHours: 'ifc-area-review-daily',
      gasOffAfterIdleMin: 'ifc-shutoff-1h',
      keepRecordsHours: 'ifc-permit-48h',
    },
  },
  'us-nfpa51b-2014': {
    id: 'us-nfpa51b-2014',
    version: 1,
    label: 'NFPA 51B, 2009 and 2014',
    citation: 'NFPA 51B-2014',
    edition: '51B-2009 and 51B-2014',
    provenance: 'partly_read',
    trustPct: 75,
    trustWhy: 'summariesFinalCheckFromOne',
    effectiveFrom: IN_FORCE_FROM,
    effectiveTo: null,
    parameters: {
      ...SILENT,
      postWatchMin: 30,
      finalCheckMin: 30,
      capHours: 24,
      reinspectEachShift: true,
    },
    parameterRules: { ...NFPA51B_RULES, postWatchMin: 'nfpa51b-2014-fw-post-30' },
  },
  'us-nfpa51b-2019': {
    id: 'us-nfpa51b-2019',
    version: 1,
    label: 'NFPA 51B, 2019 on',
    citation: 'NFPA 51B-2019',
    edition: '51B-2019 and later',
    provenance: 'partly_read',
    trustPct: 70,
    trustWhy: 'summaries',
    effectiveFrom: IN_FORCE_FROM,
    effectiveTo: null,
    parameters: {
      ...SILENT,
      postWatchMin: 60,
      finalCheckMin: 30,
      monitoringMaxMin: 180,
      capHours: 24,
      reinspectEachShift: true,
    },
    parameterRules: {
      ...NFPA51B_RULES,
      postWatchMin: 'nfpa51b-2019-fw-post-60',
      monitoringMaxMin: 'nfpa51b-2019-monitoring-180',
    },
  },
  'us-nfpa241-2022': {
    id: 'us-nfpa241-2022',
    version: 1,
    label: 'NFPA 241, 2022, on top of 51B',
    citation: 'NFPA 241-2022',
    edition: 'NFPA 241-2022 with 51B-2019',
    provenance: 'partly_read',
    trustPct: 70,
    trustWhy: 'summaries',
    // From memory: the edition of 2022; a site is not judged by it before.
    effectiveFrom: '2022-01-01',
    effectiveTo: null,
    parameters: {
      ...SILENT,
      postWatchMin: 60,
      torchRoofPostWatchMin: 120,
      finalCheckMin: 30,
      monitoringMaxMin: 180,
      capHours: 24,
      reinspectEachShift: true,
    },
    parameterRules: {
      ...NFPA51B_RULES,
      postWatchMin: 'nfpa51b-2019-fw-post-60',
      torchRoofPostWatchMin: 'nfpa241-torch-roofing-120',
      monitoringMaxMin: 'nfpa51b-2019-monitoring-180',
    },
  },
  'uk-jcop10': {
    id: 'uk-jcop10',
    version: 1,
    label: 'UK Joint Code of Practice, 10th edition',
    citation: 'Joint Code of Practice s.16.15',
    edition: 'Joint Code, 10th edition',
    provenance: 'partly_read',
    trustPct: 45,
    trustWhy: 'oneReportTimesEighty',
    // From memory: the tenth edition is of 2023.
    effectiveFrom: '2023-01-01',
    effectiveTo: null,
    parameters: {
      ...SILENT,
      watchEveryPermit: true,
      postWatchMin: 60,
      monitoringMin: 60,
      monitoringCheckEveryMin: 20,
    },
    parameterRules: {
      watchEveryPermit: 'uk-jcop10-fw-60',
      postWatchMin: 'uk-jcop10-fw-60',
      monitoringMin: 'uk-jcop10-further-checks',
      monitoringCheckEveryMin: 'uk-jcop10-further-checks',
    },
  },
  'ca-nfc': {
    id: 'ca-nfc',
    version: 1,
    label: 'National Fire Code of Canada',
    citation: 'NFC Division B 5.2.3.3',
    edition: 'National Fire Code 2010 to 2020',
    provenance: 'memory',
    trustPct: 45,
    trustWhy: 'memoryTimesSixty',
    effectiveFrom: IN_FORCE_FROM,
    effectiveTo: null,
    parameters: { ...SILENT, watchEveryPermit: true, postWatchMin: 60, finalLookAtMin: 240 },
    parameterRules: {
      watchEveryPermit: 'ca-nfc-fw-60-inspect-240',
      postWatchMin: 'ca-nfc-fw-60-inspect-240',
      finalLookAtMin: 'ca-nfc-fw-60-inspect-240',
    },
  },
  'au-as1674-1': {
    id: 'au-as1674-1',
    version: 1,
    label: 'Australia, AS 1674.1',
    citation: 'AS 1674.1 s.2-3',
    edition: 'AS 1674.1-1997',
    provenance: 'memory',
    trustPct: 45,
    trustWhy: 'memory',
    effectiveFrom: IN_FORCE_FROM,
    effectiveTo: null,
    parameters: { ...SILENT, postWatchMin: 30 },
    parameterRules: { postWatchMin: 'au-as1674-fw-30' },
  },
}

/** Confined-space air, in force at every site. */
export const ALWAYS_LAYER: Layer = {
  id: ALWAYS_LAYER_ID,
  version: 1,
  label: 'Air in confined spaces',
  citation: '29 CFR 1926.1202; 1910.146(b)',
  edition: '29 CFR 1926, eCFR January 2025',
  provenance: 'read',
  trustPct: 90,
  trustWhy: 'textOrAdoptionsRead',
  effectiveFrom: IN_FORCE_FROM,
  effectiveTo: null,
  parameters: { ...SILENT, oxygenMinPct: 19.5, oxygenMaxPct: 23.5, lelMaxPct: 10 },
  parameterRules: {
    oxygenMinPct: 'osha-cs-oxygen-range',
    oxygenMaxPct: 'osha-cs-oxygen-range',
    lelMaxPct: 'osha-cs-lfl-10',
  },
}

/** What a company layer must settle; the texts are silent on some of it. */
export type CompanyParameters = LayerParameters &
  Record<
    | 'postWatchMin'
    | 'capHours'
    | 'roundIntervalMin'
    | 'breakLimitMin'
    | 'gasTestValidMin'
    | 'oxygenMinPct'
    | 'oxygenMaxPct'
    | 'lelMaxPct'
    | 'enclosedOxygenMinPct'
    | 'enclosedOxygenMaxPct'
    | 'enclosedLelMaxPct'
    | 'coMaxPpm'
    | 'h2sMaxPpm'
    | 'paiOnSiteWithinMin',
    number
  >

export interface CompanyLayer extends Layer {
  id: typeof COMPANY_LAYER_ID
  parameters: CompanyParameters
}

/**
 * The company layer to start with: the house's own numbers where the rulesets give none or less.
 * Judgement, no source, save the reading that stops at 10 % LEL itself (29 CFR 1926.800(j)(1)(viii))
 * and, from memory, 50 ppm carbon monoxide and 10 ppm hydrogen sulfide (29 CFR 1926.55). The wind is
 * one county's figure for welding in the open under a burn ban, taken for every day in the open.
 */
export const COMPANY_LAYER: CompanyLayer = {
  id: COMPANY_LAYER_ID,
  version: 1,
  label: 'Company rules',
  citation: 'Company rules',
  edition: '1',
  provenance: 'house',
  trustPct: null,
  trustWhy: 'houseJudgement',
  effectiveFrom: IN_FORCE_FROM,
  effectiveTo: null,
  parameters: {
    ...SILENT,
    postWatchMin: 60,
    capHours: 24,
    roundIntervalMin: 10,
    breakLimitMin: 30,
    gasTestValidMin: 60,
    gasTestBeforeEveryPermit: true,
    gasTestContinuousWhenEnclosed: true,
    oxygenMinPct: 19.5,
    oxygenMaxPct: 23.5,
    lelMaxPct: 10,
    lelStopAtPct: 10,
    enclosedOxygenMinPct: 19.5,
    enclosedOxygenMaxPct: 22,
    enclosedLelMaxPct: 0,
    coMaxPpm: 50,
    h2sMaxPpm: 10,
    paiOnSiteWithinMin: 30,
    windMaxMph: 15,
  },
  parameterRules: {
    lelStopAtPct: 'osha1926-800-hotwork-suspend-10',
    windMaxMph: 'local-outdoor-burn-ban-example',
  },
}

/** A company's own numbers laid over the starting layer, e.g. as its settings store them. */
export function companyLayer(version: number, changes: Partial<CompanyParameters>): CompanyLayer {
  const parameters = { ...COMPANY_LAYER.parameters, ...changes }
  // A number that the company changed is its own, no longer that of the text it was taken from.
  const kept = Object.entries(COMPANY_LAYER.parameterRules).filter(
    ([name]) =>
      parameters[name as ParameterName] === COMPANY_LAYER.parameters[name as ParameterName],
  )
  return { ...COMPANY_LAYER, version, parameters, parameterRules: Object.fromEntries(kept) }
}

/** The edition of a layer that is in force on a day: of several the one that began last; null where none is. */
export function editionOn(editions: readonly Layer[], id: LayerId, day: string): Layer | null {
  const inForce = editions.filter(
    (layer) =>
      layer.id === id &&
      layer.effectiveFrom <= day &&
      (layer.effectiveTo === null || day <= layer.effectiveTo),
  )
  return inForce.toSorted((a, b) => a.effectiveFrom.localeCompare(b.effectiveFrom)).at(-1) ?? null
}

/**
 * The rulesets with these ids as they were in force on a day, so that an old permit is judged by the
 * rules of its day.
 *
 * @param ids the site's rulesets, local ones among them
 * @param day ISO date in the site's zone
 * @param local every edition of the rulesets that were typed in
 */
export function rulesetsOn(
  ids: readonly (RulesetId | LocalRulesetId)[],
  day: string,
  local: readonly Layer[] = [],
): Layer[] {
  const editions = [...Object.values(RULESETS), ...local]
  return ids.map((id) => editionOn(editions, id, day)).filter((layer) => layer !== null)
}

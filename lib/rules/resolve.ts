import type { CompanyLayer } from './layers'
import { ALWAYS_LAYER } from './layers'
import type { Layer, LayerId, ParameterName, Resolved, ResolvedParameters } from './types'
import { COMPANY_LAYER_ID } from './types'

type Setter = Resolved<unknown>['setBy'][number]
type Given<T> = { value: T; setter: Setter }

function given(layers: readonly Layer[], names: readonly ParameterName[]): Given<number>[] {
  return layers.flatMap((layer) =>
    names.flatMap((name) => {
      const value = layer.parameters[name]
      if (typeof value !== 'number') return []
      return [{ value, setter: { layerId: layer.id, ruleId: layer.parameterRules[name] ?? null } }]
    }),
  )
}

function pick(
  layers: readonly Layer[],
  names: readonly ParameterName[],
  strictest: (...values: number[]) => number,
): Resolved<number | null> {
  const all = given(layers, names)
  const value = all.length > 0 ? strictest(...all.map((one) => one.value)) : null
  const setBy = all.filter((one) => one.value === value).map((one) => one.setter)
  return { value, setBy, layersAsked: layers.length }
}

function any(layers: readonly Layer[], name: ParameterName): Resolved<boolean> {
  const asking = layers.filter((layer) => layer.parameters[name] === true)
  const setBy = asking.map((layer) => ({
    layerId: layer.id,
    ruleId: layer.parameterRules[name] ?? null,
  }))
  return { value: asking.length > 0, setBy, layersAsked: layers.length }
}

/** What a survey leaves of the watch: the minutes of every layer that does not let it count. */
function afterSurvey(all: readonly Layer[]): Resolved<number | null> {
  const rest = all.filter((layer) => !layer.parameters.surveyMayEndWatch)
  const resolved = { ...pick(rest, ['postWatchMin'], Math.max), layersAsked: all.length }
  return rest.length < all.length
    ? { ...resolved, value: resolved.value ?? 0 }
    : { ...resolved, value: null }
}

/** A company layer settles what the texts leave open, so these are never silent. */
function settled(resolved: Resolved<number | null>, fallback: number): Resolved<number> {
  if (resolved.value !== null) return { ...resolved, value: resolved.value }
  return { ...resolved, value: fallback, setBy: [{ layerId: COMPANY_LAYER_ID, ruleId: null }] }
}

/**
 * The parameters that hold at a site, each the strictest of all its layers and each with the
 * layer and rule that set it. The company's own number counts only where it is the strictest.
 *
 * @param layers the site's rulesets (`rulesetsOn` leaves out those not in force that day)
 * @param company the company's layer
 * @returns minutes, hours and per cent with their setters, for a permit's snapshot and its screen
 */
export function resolveParameters(
  layers: readonly Layer[],
  company: CompanyLayer,
): ResolvedParameters {
  const all: readonly Layer[] = [...layers, company, ALWAYS_LAYER]
  const most = (...names: ParameterName[]) => pick(all, names, Math.max)
  const least = (...names: ParameterName[]) => pick(all, names, Math.min)
  const own = company.parameters
  const roundIntervalMin = settled(least('roundIntervalMin'), own.roundIntervalMin)
  return {
    layers: all.map((layer): { id: LayerId; version: number } => ({
      id: layer.id,
      version: layer.version,
    })),
    watchMin: settled(most('postWatchMin'), own.postWatchMin),
    watchAfterSurveyMin: afterSurvey(all),
    statementRequired: any(all, 'statementRequired'),
    finalCheckMin: settled(most('finalCheckMin'), 0),
    monitoringMin: settled(most('monitoringMin'), 0),
    monitoringMaxMin: most('monitoringMaxMin'),
    monitoringCheckEveryMin: least('monitoringCheckEveryMin'),
    finalLookAtMin: settled(most('finalLookAtMin'), 0),
    roundIntervalMin,
    gapRestartMin: roundIntervalMin,
    breakLimitMin: settled(least('breakLimitMin'), own.breakLimitMin),
    gasTestValidMin: settled(least('gasTestValidMin'), own.gasTestValidMin),
    gasTestBeforeEveryPermit: any(all, 'gasTestBeforeEveryPermit'),
    gasTestContinuousWhenEnclosed: any(all, 'gasTestContinuousWhenEnclosed'),
    oxygenMinPct: settled(most('oxygenMinPct'), own.oxygenMinPct),
    oxygenMaxPct: settled(least('oxygenMaxPct'), own.oxygenMaxPct),
    oxygenStopAtPct: least('oxygenStopAtPct'),
    lelMaxPct: settled(least('lelMaxPct'), own.lelMaxPct),
    lelStopAtPct: least('lelStopAtPct'),
    enclosedOxygenMinPct: settled(
      most('enclosedOxygenMinPct', 'oxygenMinPct'),
      own.enclosedOxygenMinPct,
    ),
    enclosedOxygenMaxPct: settled(
      least('enclosedOxygenMaxPct', 'oxygenMaxPct'),
      own.enclosedOxygenMaxPct,
    ),
    enclosedLelMaxPct: settled(least('enclosedLelMaxPct', 'lelMaxPct'), own.enclosedLelMaxPct),
    coMaxPpm: settled(least('coMaxPpm'), own.coMaxPpm),
    h2sMaxPpm: settled(least('h2sMaxPpm'), own.h2sMaxPpm),
    capHours: settled(least('capHours'), own.capHours),
    paiOnSiteWithinMin: settled(least('paiOnSiteWithinMin'), own.paiOnSiteWithinMin),
    reinspectEveryHours: least('reinspectEveryHours'),
    reinspectEachShift: any(all, 'reinspectEachShift'),
    gearCheckEachShift: any(all, 'gearCheckEachShift'),
    gasOffAfterIdleMin: least('gasOffAfterIdleMin'),
    unattendedEnclosedMaxMin: least('unattendedEnclosedMaxMin'),
    unattendedConfinedMaxMin: least('unattendedConfinedMaxMin'),
    keepRecordsHours: most('keepRecordsHours'),
    windMaxMph: least('windMaxMph'),
  }
}

import type { RuleId } from './catalogue'
import type { ConditionField, Conditions } from './conditions'
import type { Cure, CureCode } from './cure'
import { CURES } from './cures'
import { evaluate, isBlocking } from './evaluate'
import type {
  Evaluation,
  EvaluationReason,
  Layer,
  LayerId,
  PrecautionDue,
  PrecautionId,
} from './types'
import { ALWAYS_LAYER_ID, DECISION_ORDER } from './types'

/** Who asks for a precaution; no rules: the layer's own house default. */
export interface AskedBy {
  layerId: LayerId
  rules: readonly string[]
  fields: readonly ConditionField[]
}

export interface PrecautionExplained {
  id: PrecautionId
  askedBy: readonly AskedBy[]
  /** The conditions that brought it, as they stand; null for those that are lists or people. */
  conditions: readonly { field: ConditionField; value: string | number | boolean | null }[]
  /** Ways to be rid of it, each a set of things to do together; empty: it stays wherever the work is. */
  goesAwayBy: readonly (readonly CureCode[])[]
  /** Above this assigned protection factor, where the precaution is a respirator; null elsewhere. */
  protectionFactorAbove: number | null
}

export interface RefusalExplained {
  reasons: readonly EvaluationReason[]
  code: string
  goesAwayBy: readonly (readonly CureCode[])[]
}

const strictness = (evaluation: Evaluation) => DECISION_ORDER.indexOf(evaluation.decision)

/** The conditions once all of these are done; a thing that another already brought about changes nothing. */
export function afterCures(cures: readonly Cure[], c: Conditions): Conditions {
  const [first, ...rest] = cures
  return first ? afterCures(rest, { ...c, ...first.changes(c) }) : c
}

/** Sets of one thing to do that serve; else of two; else all that bear on it, less what is not needed. */
function waysOut(
  layers: readonly Layer[],
  c: Conditions,
  fields: ReadonlySet<ConditionField>,
  isGone: (evaluation: Evaluation) => boolean,
): readonly (readonly CureCode[])[] {
  const before = strictness(evaluate(layers, c))
  const serves = (cures: readonly Cure[]) => {
    const after = evaluate(layers, afterCures(cures, c))
    return isGone(after) && strictness(after) >= before
  }
  const possible = CURES.filter(
    (cure) => cure.fields.some((field) => fields.has(field)) && cure.changes(c) !== null,
  )
  const named = (found: readonly (readonly Cure[])[]) =>
    found.map((cures) => cures.map((cure) => cure.code))
  const singles = possible.filter((cure) => serves([cure])).map((cure) => [cure])
  // Leaving the place always serves where something there brings it; say what can be done here as well.
  const here = singles.filter(([cure]) => cure?.code !== 'designated_area')
  if (here.length > 0) return named(singles)
  const local = possible.filter((cure) => cure.code !== 'designated_area')
  const pairs = local
    .flatMap((one, index) => local.slice(index + 1).map((other) => [one, other]))
    .filter(serves)
  if (pairs.length > 0) return named([...pairs, ...singles])
  const least = local.reduce<readonly Cure[]>((so, cure) => {
    const without = so.filter((one) => one !== cure)
    return serves(so) && serves(without) ? without : so
  }, local)
  return named([...(least.length > 2 && serves(least) ? [least] : []), ...singles])
}

function askedBy(evaluation: Evaluation, due: PrecautionDue): AskedBy[] {
  const ofLayers = evaluation.perLayer.flatMap((layer): AskedBy[] => {
    const own = layer.precautions.find((one) => one.id === due.id)
    return own ? [{ layerId: layer.layerId, rules: own.rules, fields: own.conditions }] : []
  })
  const named = new Set(ofLayers.flatMap((one) => one.rules))
  const rest = due.rules.filter((rule) => !named.has(rule))
  const always = { layerId: ALWAYS_LAYER_ID, rules: rest, fields: due.conditions } as const
  return rest.length > 0 ? [...ofLayers, always] : ofLayers
}

function shown(c: Conditions, field: ConditionField) {
  const value = c[field]
  return { field, value: typeof value === 'object' ? null : value }
}

/** 29 CFR 1926.62: torch work on lead paint counts as over 50 times the limit until it is measured. From memory. */
const LEAD_PROTECTION_FACTOR_ABOVE = 50
const LEAD_LIMIT_UG_M3 = 50
const RESPIRATORS: readonly PrecautionId[] = ['filter-respirator', 'lead-interim-protection']

/**
 * The protection factor that lead asks of a respirator.
 *
 * @param measuredUgM3 airborne lead, micrograms per cubic metre over the shift; null until measured
 * @returns the factor to be exceeded, or reached, or neither where no respirator is asked for
 * @source 29 CFR 1926.62(c), (d)(2) as read; the factor as measured over limit from memory
 */
export function leadProtection(measuredUgM3: number | null): {
  above: number | null
  atLeast: number | null
  ruleId: RuleId
} {
  const ruleId = 'osha1926-lead-torch-respirator-apf50'
  const isMeasured = measuredUgM3 !== null && Number.isFinite(measuredUgM3) && measuredUgM3 >= 0
  if (!isMeasured) return { above: LEAD_PROTECTION_FACTOR_ABOVE, atLeast: null, ruleId }
  const times = measuredUgM3 / LEAD_LIMIT_UG_M3
  return { above: null, atLeast: times > 1 ? times : null, ruleId }
}

/**
 * For each precaution: which layers and rules asked for it, because of which conditions, and what
 * would make it go away. What would is tried out, by judging the changed conditions again.
 *
 * @param layers the site's layers, the company's own among them
 * @param conditions as the survey left them
 * @returns codes alone; words for cures stand under `rules.cures`
 */
export function explainPrecautions(
  layers: readonly Layer[],
  conditions: Conditions,
): PrecautionExplained[] {
  const evaluation = evaluate(layers, conditions)
  const isLead = conditions.coating === 'lead_paint'
  return evaluation.precautions.map((due) => ({
    id: due.id,
    askedBy: askedBy(evaluation, due),
    conditions: due.conditions.map((field) => shown(conditions, field)),
    goesAwayBy: waysOut(layers, conditions, new Set(due.conditions), (after) =>
      after.precautions.every((one) => one.id !== due.id),
    ),
    protectionFactorAbove:
      isLead && RESPIRATORS.includes(due.id) ? leadProtection(null).above : null,
  }))
}

/** For each refusal: every rule behind it, and what would lift it. */
export function explainRefusals(
  layers: readonly Layer[],
  conditions: Conditions,
): RefusalExplained[] {
  const evaluation = evaluate(layers, conditions)
  const blocking = evaluation.reasons.filter((reason) => isBlocking(reason.decision))
  return [...new Set(blocking.map((reason) => reason.code))].map((code) => {
    const reasons = blocking.filter((reason) => reason.code === code)
    return {
      code,
      reasons,
      goesAwayBy: waysOut(
        layers,
        conditions,
        new Set(reasons.flatMap((reason) => fieldsOf(reason))),
        (after) => !after.reasons.some((one) => one.code === code && isBlocking(one.decision)),
      ),
    }
  })
}

/** A reason names its first condition; with it go those that the same fact is made of. */
function fieldsOf({ field }: EvaluationReason): readonly ConditionField[] {
  const together = CURES.filter(
    (cure) => cure.code !== 'designated_area' && cure.fields.includes(field),
  )
  return [field, ...together.flatMap((cure) => cure.fields)]
}

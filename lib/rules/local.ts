import { loosened } from './compare'
import { evaluate } from './evaluate'
import { COMPANY_LAYER, SILENT } from './layers'
import { isLaxer, isParameterName, PARAMETER_NAMES, PARAMETER_RULES } from './parameters'
import { PROBE_DEFAULTS, PROBES } from './probes'
import type {
  Evaluation,
  Layer,
  LayerParameters,
  LocalRulesetId,
  ParameterName,
  PrecautionId,
} from './types'
import { PRECAUTION_IDS } from './types'

export const LOCAL_PROBLEM_CODES = [
  'id_form',
  'id_taken',
  'label_missing',
  'citation_missing',
  'edition_missing',
  'provenance_form',
  'version_form',
  'day_form',
  'ends_before_start',
  'unknown_parameter',
  'not_a_number',
  'not_a_flag',
  'out_of_bounds',
  'not_whole',
  'range_empty',
  'unknown_precaution',
  'nothing_asked',
  'laxer_than_layers',
  'not_for_the_company',
  'company_silent',
] as const

/** What is wrong with what was typed in: a key under `rules.problems`, and the field it is about. */
export interface LocalProblem {
  code: (typeof LOCAL_PROBLEM_CODES)[number]
  field: string
  params: Readonly<Record<string, string | number>>
}

export type LocalRead =
  | { ok: true; layer: Layer }
  | { ok: false; problems: readonly LocalProblem[] }

const problem = (
  code: LocalProblem['code'],
  field: string,
  params: LocalProblem['params'] = {},
): LocalProblem => ({ code, field, params })

const ID_FORM = /^[a-z0-9-]{2,40}$/
const DAY_FORM = /^\d{4}-\d{2}-\d{2}$/
const isText = (value: unknown): value is string => typeof value === 'string' && value.trim() !== ''
const isDay = (value: unknown): value is string => {
  if (typeof value !== 'string' || !DAY_FORM.test(value)) return false
  const at = new Date(`${value}T00:00:00Z`)
  return !Number.isNaN(at.getTime()) && at.toISOString().startsWith(value)
}
const isPrecaution = (id: unknown): id is PrecautionId =>
  (PRECAUTION_IDS as readonly unknown[]).includes(id)

/** Parameters of whole minutes, hours and the like; only per cent, ppm and wind have parts. */
const isWhole = (name: ParameterName) => !/(Pct|Ppm|Mph)$/.test(name)

function parameterProblem(name: string, value: unknown): LocalProblem[] {
  const field = `parameters.${name}`
  if (!isParameterName(name)) return [problem('unknown_parameter', field, { name })]
  const { kind, min, max } = PARAMETER_RULES[name]
  if (value === null) return []
  if (kind === 'flag')
    return typeof value === 'boolean' ? [] : [problem('not_a_flag', field, { name })]
  if (typeof value !== 'number' || !Number.isFinite(value))
    return [problem('not_a_number', field, { name })]
  if (value < min || value > max) return [problem('out_of_bounds', field, { name, min, max })]
  return isWhole(name) && !Number.isInteger(value) ? [problem('not_whole', field, { name })] : []
}

function rangeProblem(parameters: Readonly<Record<string, unknown>>): LocalProblem[] {
  const pairs = [
    ['oxygenMinPct', 'oxygenMaxPct'],
    ['enclosedOxygenMinPct', 'enclosedOxygenMaxPct'],
  ] as const
  return pairs.flatMap(([low, high]) => {
    const [min, max] = [parameters[low], parameters[high]]
    const isEmpty = typeof min === 'number' && typeof max === 'number' && min > max
    return isEmpty ? [problem('range_empty', `parameters.${low}`)] : []
  })
}

/** Whether changed parameters are known, of the right kind, within bounds and of one mind. */
function parameterProblems(parameters: Readonly<Record<string, unknown>>): LocalProblem[] {
  return [
    ...Object.entries(parameters).flatMap(([name, value]) => parameterProblem(name, value)),
    ...rangeProblem(parameters),
  ]
}

function precautionProblems(precautions: readonly unknown[]): LocalProblem[] {
  return precautions
    .filter((id) => !isPrecaution(id))
    .map((id) => problem('unknown_precaution', 'precautions', { name: String(id) }))
}

/** What an administrator typed in. `id` is the short name that follows `local:`. */
export interface LocalInput {
  id?: unknown
  version?: unknown
  label?: unknown
  citation?: unknown
  edition?: unknown
  provenance?: unknown
  effectiveFrom?: unknown
  effectiveTo?: unknown
  parameters?: unknown
  precautions?: unknown
}

const asRecord = (value: unknown): Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
    ? (value as Readonly<Record<string, unknown>>)
    : {}
const asList = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : [])

function headProblems(input: LocalInput): LocalProblem[] {
  const { effectiveFrom, effectiveTo } = input
  const isOpen = effectiveTo === null || effectiveTo === undefined
  const isWrongEnd = !isOpen && !isDay(effectiveTo)
  const isBackward = isDay(effectiveFrom) && isDay(effectiveTo) && effectiveTo < effectiveFrom
  const isVersion = Number.isInteger(input.version) && Number(input.version) >= 1
  return [
    ...(isText(input.id) && ID_FORM.test(input.id) ? [] : [problem('id_form', 'id')]),
    ...(isVersion ? [] : [problem('version_form', 'version')]),
    ...(isText(input.label) ? [] : [problem('label_missing', 'label')]),
    ...(isText(input.citation) ? [] : [problem('citation_missing', 'citation')]),
    ...(isText(input.edition) ? [] : [problem('edition_missing', 'edition')]),
    ...(input.provenance === 'read' || input.provenance === 'memory'
      ? []
      : [problem('provenance_form', 'provenance')]),
    ...(isDay(effectiveFrom) ? [] : [problem('day_form', 'effectiveFrom')]),
    ...(isWrongEnd ? [problem('day_form', 'effectiveTo')] : []),
    ...(isBackward ? [problem('ends_before_start', 'effectiveTo')] : []),
  ]
}

/** Two editions of one ruleset may not share a number or a first day. */
function takenProblem(input: LocalInput, known: readonly Layer[]): LocalProblem[] {
  const isTaken = known.some(
    (layer) =>
      layer.id === `local:${String(input.id)}` &&
      (layer.version === input.version || layer.effectiveFrom === input.effectiveFrom),
  )
  return isTaken ? [problem('id_taken', 'id')] : []
}

const asksNothing = (parameters: Readonly<Record<string, unknown>>) =>
  Object.values(parameters).every((value) => value === null || value === false)

/**
 * A local ruleset as typed in: changed parameters and known precautions under a citation. It is a
 * layer like any other afterwards; since the strictest of all layers holds, it can loosen nothing.
 *
 * @param known the local rulesets that are there already
 * @returns the layer, or every problem at once
 */
export function readLocalRuleset(input: LocalInput, known: readonly Layer[] = []): LocalRead {
  const parameters = asRecord(input.parameters)
  const precautions = asList(input.precautions)
  const problems = [
    ...headProblems(input),
    ...takenProblem(input, known),
    ...parameterProblems(parameters),
    ...precautionProblems(precautions),
    ...(asksNothing(parameters) && precautions.length === 0
      ? [problem('nothing_asked', 'parameters')]
      : []),
  ]
  return problems.length > 0 ? { ok: false, problems } : { ok: true, layer: toLocalLayer(input) }
}

/** An edition as it was kept: it was read once when it was typed in, and is not refused later. */
export function toLocalLayer(kept: LocalInput): Layer {
  const parameters = asRecord(kept.parameters)
  const known = Object.entries(parameters).filter(([name]) => isParameterName(name))
  const id: LocalRulesetId = `local:${String(kept.id)}`
  return {
    id,
    version: Number(kept.version),
    label: String(kept.label).trim(),
    citation: String(kept.citation).trim(),
    edition: String(kept.edition).trim(),
    provenance: kept.provenance === 'read' ? 'read' : 'memory',
    trustPct: null,
    trustWhy: 'typedIn',
    effectiveFrom: String(kept.effectiveFrom),
    effectiveTo: isDay(kept.effectiveTo) ? kept.effectiveTo : null,
    parameters: { ...SILENT, ...(Object.fromEntries(known) as Partial<LayerParameters>) },
    parameterRules: {},
    precautions: [...new Set(asList(kept.precautions).filter(isPrecaution))],
  }
}

function strictestOther(name: ParameterName, value: unknown, layers: readonly Layer[]) {
  const stricter = layers.filter((layer) =>
    isLaxer(name, value as LayerParameters[typeof name], layer.parameters[name]),
  )
  return stricter.toSorted((a, b) =>
    isLaxer(name, a.parameters[name], b.parameters[name]) ? 1 : -1,
  )[0]
}

/**
 * What is wrong with the company's own numbers: unknown, out of bounds, or laxer than a layer in
 * force. A laxer number would count for nothing, so it is refused rather than kept for show.
 */
export function companyProblems(
  changes: Readonly<Record<string, unknown>>,
  layers: readonly Layer[],
): LocalProblem[] {
  const wrong = parameterProblems(changes)
  const refused = new Set(wrong.map((one) => one.field))
  return [
    ...wrong,
    ...PARAMETER_NAMES.filter(
      (name) => Object.hasOwn(changes, name) && !refused.has(`parameters.${name}`),
    ).flatMap((name): LocalProblem[] => {
      const field = `parameters.${name}`
      if (name === 'surveyMayEndWatch' && changes[name] === true)
        return [problem('not_for_the_company', field, { name })]
      const other = strictestOther(name, changes[name], layers)
      if (!other) return []
      const limit = String(other.parameters[name])
      return [problem('laxer_than_layers', field, { name, layer: other.id, limit })]
    }),
  ]
}

/** Values that differ from those kept; a flag that stays off asks for nothing and is no change. */
export function changedParameters(
  typed: Readonly<Record<string, unknown>>,
  kept: LayerParameters,
): Readonly<Record<string, unknown>> {
  const before: Readonly<Record<string, unknown>> = { ...kept }
  return Object.fromEntries(
    Object.entries(typed).filter(([name, value]) => (value ?? null) !== (before[name] ?? null)),
  )
}

/** The texts leave these open, so the company's own layer may not be silent on them. */
const COMPANY_SETTLES = PARAMETER_NAMES.filter(
  (name) => typeof COMPANY_LAYER.parameters[name] === 'number' && name !== 'lelStopAtPct',
)

/** Numbers that the company's layer must give and does not. */
export function missingCompanyParameters(
  changes: Readonly<Record<string, unknown>>,
): LocalProblem[] {
  return COMPANY_SETTLES.filter((name) => (changes[name] ?? null) === null).map((name) =>
    problem('company_silent', `parameters.${name}`, { name }),
  )
}

export interface TrialRow {
  /** A case of `PROBES`. */
  probeId: string
  before: Evaluation
  after: Evaluation
  /** Whether the new layer changes what a person is told. */
  isChanged: boolean
  /** In what the answer got looser: empty, or the layer may not take effect. */
  loosened: readonly string[]
}

const told = ({ decision, required, ...rest }: Evaluation) =>
  JSON.stringify([
    decision,
    required,
    rest.postWatchMin,
    rest.closeEarliestMin,
    rest.finalCheckMin,
    rest.finalLookAtMin,
    rest.monitoringMin,
    rest.statementRequired,
    rest.capHours,
    rest.roundIntervalMin,
    rest.precautions.map((one) => one.id).toSorted(),
  ])

/**
 * A layer tried on every published case before it takes effect, with the site's layers as they are.
 *
 * @param layer the new layer, or the new edition of one that it then replaces
 * @param site the layers in force now, the company's own among them
 */
export function tryLayer(layer: Layer, site: readonly Layer[]): TrialRow[] {
  const others = site.filter((one) => one.id !== layer.id)
  return PROBES.map(({ id, conditions }) => {
    const c = { ...PROBE_DEFAULTS, ...conditions }
    const before = evaluate(site, c)
    const after = evaluate([...others, layer], c)
    return {
      probeId: id,
      before,
      after,
      isChanged: told(before) !== told(after),
      // Against the other layers: a new edition may well ask for less than the one it replaces.
      loosened: others.length > 0 ? loosened(evaluate(others, c), after) : [],
    }
  })
}

import { z } from 'zod'
import { PARAMETER_NAMES, PARAMETER_RULES } from '../rules/parameters'
import type { ParameterName } from '../rules/types'
import { clientKey, dayField, idField, optionalNumberField } from './fields'

/** The form's name for a parameter's box. */
export const parameterBox = (name: ParameterName) => `p_${name}` as const

const flagField = z
  .enum(['', 'yes'])
  .optional()
  .transform((value) => value === 'yes')

type Boxes = Record<`p_${ParameterName}`, typeof flagField | typeof optionalNumberField>

const boxes = Object.fromEntries(
  PARAMETER_NAMES.map((name) => [
    parameterBox(name),
    PARAMETER_RULES[name].kind === 'flag' ? flagField : optionalNumberField,
  ]),
) as Boxes

export type TypedParameters = Readonly<Partial<Record<ParameterName, number | boolean | null>>>

/** What the boxes hold: a box that was left empty is silent, null or no. */
export function typedParameters(
  input: Readonly<Record<`p_${ParameterName}`, number | boolean | null>>,
): TypedParameters {
  return Object.fromEntries(PARAMETER_NAMES.map((name) => [name, input[parameterBox(name)]]))
}

// What each box may hold is lib/rules' to say, with a reason of its own for each.
const said = z.string().trim().max(300, 'TOO_LONG')

export const localRulesetSchema = z.object({
  key: clientKey,
  siteId: idField,
  id: said,
  label: said,
  citation: said,
  edition: said,
  provenance: z.enum(['read', 'memory'], 'CHOOSE_ONE'),
  effectiveFrom: dayField,
  effectiveTo: z
    .union([z.literal(''), dayField])
    .optional()
    .transform((day) => day || null),
  precautions: z.array(z.string().max(80)).max(100),
  ...boxes,
})
export type LocalRulesetInput = z.output<typeof localRulesetSchema>

export const siteRulesetSchema = z.object({
  key: clientKey,
  siteId: idField,
  rulesetId: z.string().min(1, 'CHOOSE_ONE').max(80, 'TOO_LONG'),
})
export type SiteRulesetInput = z.output<typeof siteRulesetSchema>

export const companyLayerSchema = z.object({
  key: clientKey,
  /** Where it is typed in; the layer holds at all sites. */
  siteId: idField,
  citation: said.min(1, 'SAY_IT'),
  ...boxes,
})
export type CompanyLayerInput = z.output<typeof companyLayerSchema>

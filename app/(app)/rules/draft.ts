import { PARAMETER_NAMES, PARAMETER_RULES } from '@/lib/rules/parameters'
import type { ParameterName } from '@/lib/rules/types'
import { parameterBox } from '@/lib/schemas/rules'

type Draft = Readonly<Record<ParameterName, number | boolean | null>>

function typed(form: FormData, name: ParameterName): number | boolean | null {
  const text = String(form.get(parameterBox(name)) ?? '').trim()
  if (PARAMETER_RULES[name].kind === 'flag') return text === 'yes'
  return text === '' ? null : Number(text)
}

/** The boxes as they stand while somebody types: what is no number is none, and is said to be. */
export function draftParameters(form: FormData): Draft {
  return Object.fromEntries(
    PARAMETER_NAMES.map((name) => [name, typed(form, name)]),
  ) as unknown as Draft
}

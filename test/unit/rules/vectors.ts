import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Conditions } from '@/lib/rules/conditions'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import type { Decision } from '@/lib/rules/types'

export interface PermitVector {
  id: string
  kind: string
  title: string
  conditions?: Record<string, unknown>
  input?: Record<string, unknown>
  expected: {
    decision: Record<string, Decision>
    precautions: string[]
    fire_watch: Record<
      string,
      { required: string; post_watch_min: number | null; close_earliest_min: number | null }
    >
    strictest?: {
      layers: string[]
      decision: Decision
      required: string
      post_watch_min: number | null
      close_earliest_min: number | null
      statement_required?: boolean
    }[]
  }
}

const path = fileURLToPath(
  new URL('../../vectors/rules/permit-decision-vectors.json', import.meta.url),
)
const file = JSON.parse(readFileSync(path, 'utf8')) as {
  defaults: Record<string, unknown>
  precautions: Record<string, string>
  rulesets: Record<string, { label: string }>
  vectors: PermitVector[]
}

const RENAMED: Record<string, string> = { A: 'ratingA', B: 'ratingB' }
const camel = (key: string) =>
  RENAMED[key] ?? key.replace(/_(\w)/g, (_, letter: string) => letter.toUpperCase())

function camelDeep(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(camelDeep)
  if (value === null || typeof value !== 'object') return value
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [camel(key), camelDeep(inner)]),
  )
}

export const vectors = file.vectors
export const publishedDefaults = camelDeep(file.defaults)
export const publishedRulesets = Object.keys(file.rulesets)
export const publishedPrecautions = Object.keys(file.precautions)

export function vector(id: string): PermitVector {
  const found = vectors.find((one) => one.id.startsWith(id))
  if (!found) throw new Error(`no vector ${id}`)
  return found
}

export function conditionsOf(one: PermitVector): Conditions {
  return {
    ...DEFAULT_CONDITIONS,
    ...(publishedDefaults as Partial<Conditions>),
    ...(camelDeep(one.conditions ?? {}) as Partial<Conditions>),
  }
}

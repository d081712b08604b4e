import 'server-only'
import { z } from 'zod'
import { rulesetsOn } from '@/lib/rules/layers'
import { toLocalLayer } from '@/lib/rules/local'
import { type Layer, type LocalRulesetId, RULESET_IDS, type RulesetId } from '@/lib/rules/types'

/** An edition as PostgreSQL writes it as JSON: days are text. */
export interface LocalRulesetRow {
  ruleset_id: string
  version: number
  label: string
  citation: string
  edition: string
  provenance: string
  effective_from: string
  effective_to: string | null
  params: unknown
  precautions: unknown
}

const LOCAL = 'local:'
const paramsSchema = z.record(z.string(), z.union([z.number(), z.boolean(), z.null()]))
const precautionsSchema = z.array(z.string())

/** The layer that a kept edition is. */
export function localLayer(row: LocalRulesetRow): Layer {
  return toLocalLayer({
    ...row,
    id: row.ruleset_id.slice(LOCAL.length),
    effectiveFrom: row.effective_from,
    effectiveTo: row.effective_to,
    parameters: paramsSchema.parse(row.params),
    precautions: precautionsSchema.parse(row.precautions),
  })
}

const isPublished = (id: string): id is RulesetId => (RULESET_IDS as readonly string[]).includes(id)
const isLocal = (id: string): id is LocalRulesetId => id.startsWith(LOCAL)

/** The layers of a site's rulesets on a day of its calendar: published ones and those typed in. */
export function siteLayersOn(
  ids: readonly string[],
  local: readonly LocalRulesetRow[],
  day: string,
): Layer[] {
  const known = ids.filter((id) => isPublished(id) || isLocal(id))
  return rulesetsOn(known, day, local.map(localLayer))
}

import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { type LocalProblem, readLocalRuleset } from '@/lib/rules/local'
import { trialOf } from '@/lib/rules/trial'
import { type Layer, RULESET_IDS } from '@/lib/rules/types'
import { type LocalRulesetInput, type SiteRulesetInput, typedParameters } from '@/lib/schemas/rules'
import { once } from './client-keys'
import { layersToday, readSiteRules } from './rules'
import { refuseRules } from './rules-refuse'
import { localLayer } from './rulesets-local'
import { inTransaction, type Tx } from './tx'

const asDay = (day: string) => new Date(`${day}T00:00:00.000Z`)

/** Another site may go by a ruleset of this name: only who administers it there may add an edition. */
async function othersProblems(tx: Tx, viewer: Viewer, rulesetId: string): Promise<LocalProblem[]> {
  const elsewhere = await tx.siteRuleset.findFirst({
    where: { rulesetId, toAt: null, siteId: { notIn: sitesWhere(viewer, 'rules:write') } },
    select: { id: true },
  })
  return elsewhere ? [{ code: 'id_taken', field: 'id', params: {} }] : []
}

async function keep(tx: Tx, viewer: Viewer, layer: Layer, input: LocalRulesetInput): Promise<void> {
  const asked = Object.entries(layer.parameters).filter(
    ([, value]) => value !== null && value !== false,
  )
  await tx.localRuleset.create({
    select: { id: true },
    data: {
      id: uuidv7(),
      rulesetId: layer.id,
      version: layer.version,
      label: layer.label,
      citation: layer.citation,
      edition: layer.edition,
      provenance: input.provenance,
      effectiveFrom: asDay(layer.effectiveFrom),
      effectiveTo: layer.effectiveTo === null ? null : asDay(layer.effectiveTo),
      params: Object.fromEntries(asked),
      precautions: [...(layer.precautions ?? [])],
      addedBy: viewer.personId,
    },
  })
}

/**
 * A ruleset typed in for a site, or the next edition of one. It is tried on every published case
 * beside the site's layers, and refused with what it would loosen.
 */
export async function saveLocalRuleset(
  viewer: Viewer,
  input: LocalRulesetInput,
): Promise<{ rulesetId: string; version: number }> {
  assertCan(viewer, 'rules:write', input.siteId)
  return inTransaction(viewer, 'rules:type-in', (tx) =>
    once(tx, viewer, { key: input.key, action: 'rules:type-in', input }, async () => {
      const read = await readSiteRules(tx, input.siteId)
      const known = read.local.map(localLayer)
      const rulesetId = `local:${input.id}`
      const versions = known.filter((one) => one.id === rulesetId).map((one) => one.version)
      const typed = readLocalRuleset(
        { ...input, version: Math.max(0, ...versions) + 1, parameters: typedParameters(input) },
        known,
      )
      const others = await othersProblems(tx, viewer, rulesetId)
      refuseRules([...(typed.ok ? [] : typed.problems), ...others])
      if (!typed.ok) throw new Error('a ruleset with problems was not refused')
      const { layer } = typed
      refuseRules([], trialOf(layer, layersToday(read)).loosened)
      await keep(tx, viewer, layer, input)
      if (!read.taken.includes(layer.id))
        await takeOn(tx, viewer, { siteId: input.siteId, rulesetId: layer.id })
      return { rulesetId: layer.id, version: layer.version }
    }),
  )
}

async function takeOn(
  tx: Tx,
  viewer: Viewer,
  { siteId, rulesetId }: Pick<SiteRulesetInput, 'siteId' | 'rulesetId'>,
): Promise<void> {
  await tx.siteRuleset.create({
    select: { id: true },
    data: { id: uuidv7(), siteId, rulesetId, addedBy: viewer.personId },
  })
}

/** Takes a known ruleset on at a site: from now, for permits that are issued from now. */
export async function takeOnRuleset(
  viewer: Viewer,
  input: SiteRulesetInput,
): Promise<{ rulesetId: string }> {
  assertCan(viewer, 'rules:write', input.siteId)
  return inTransaction(viewer, 'rules:take-on', (tx) =>
    once(tx, viewer, { key: input.key, action: 'rules:take-on', input }, async () => {
      const { rulesetId } = input
      const isPublished = (RULESET_IDS as readonly string[]).includes(rulesetId)
      if (!isPublished && !rulesetId.startsWith('local:')) throw new AppError('NOT_FOUND')
      await takeOn(tx, viewer, input)
      return { rulesetId }
    }),
  )
}

/** Leaves a ruleset at a site. Permits that were issued under it go on under it. */
export async function leaveRuleset(
  viewer: Viewer,
  input: SiteRulesetInput,
): Promise<{ rulesetId: string }> {
  assertCan(viewer, 'rules:write', input.siteId)
  return inTransaction(viewer, 'rules:leave', (tx) =>
    once(tx, viewer, { key: input.key, action: 'rules:leave', input }, async () => {
      const { siteId, rulesetId } = input
      await tx.$queryRaw`SELECT 1 FROM sites WHERE id = ${siteId}::uuid FOR NO KEY UPDATE`
      const read = await readSiteRules(tx, siteId)
      if (!read.taken.includes(rulesetId)) throw new AppError('NOT_FOUND')
      if (read.taken.length === 1)
        throw new AppError('RULES_REFUSED', { count: 1 }, [{ code: 'LAST_RULESET' }])
      const { count } = await tx.siteRuleset.updateMany({
        where: { siteId, rulesetId, toAt: null },
        data: { toAt: read.now },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { rulesetId }
    }),
  )
}

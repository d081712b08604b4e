import 'server-only'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { localDay } from '@/lib/format/local-time'
import { type LayerCard, layerCard } from '@/lib/rules/layer-card'
import { ALWAYS_LAYER, type CompanyLayer, RULESETS } from '@/lib/rules/layers'
import { type Layer, RULESET_IDS } from '@/lib/rules/types'
import { db } from './client'
import { keptCompanyLayer } from './company-layer'
import { type LocalRulesetRow, localLayer, siteLayersOn } from './rulesets-local'
import { type ResolvedSite, resolveSite } from './sites'
import type { Tx } from './tx'

type Read = Readonly<{
  /** Ids that the site has taken on, whatever day they begin. */
  taken: readonly string[]
  local: readonly LocalRulesetRow[]
  company: CompanyLayer
  now: Date
  zone: string
}>

/** What a site's layers are made of, now. */
export async function readSiteRules(tx: Tx, siteId: string): Promise<Read> {
  const [row] = await tx.$queryRaw<
    {
      taken: string[]
      local: LocalRulesetRow[]
      company: { params: unknown; citation: string } | null
      company_no: number
      now: Date
      zone: string
    }[]
  >`
    SELECT s.zone, kerf_now() AS now,
      coalesce((SELECT jsonb_agg(r.ruleset_id ORDER BY r.from_at, r.id) FROM site_rulesets r
                WHERE r.site_id = s.id AND r.to_at IS NULL), '[]') AS taken,
      coalesce((SELECT jsonb_agg(to_jsonb(l) ORDER BY l.ruleset_id, l.version) FROM local_rulesets l), '[]') AS local,
      (SELECT to_jsonb(c) FROM company_layers c ORDER BY c.from_at DESC, c.id DESC LIMIT 1) AS company,
      (SELECT count(*)::int FROM company_layers) AS company_no
    FROM sites s WHERE s.id = ${siteId}::uuid`
  if (!row) throw new Error('a site that was resolved is not there')
  const { taken, local, now, zone } = row
  return { taken, local, now, zone, company: keptCompanyLayer(row.company, row.company_no) }
}

/** The layers in force at a site today, the company's own among them. */
export function layersToday({ taken, local, company, now, zone }: Read): Layer[] {
  return [...siteLayersOn(taken, local, localDay(now, zone)), company]
}

export type SiteRulesView = Readonly<{
  site: ResolvedSite
  /** In force today: rulesets, the company's own, and what holds everywhere. */
  layers: readonly LayerCard[]
  /** Taken on, but not begun or already over. */
  waiting: readonly LayerCard[]
  /** Rulesets that the site has taken on and could leave. */
  taken: readonly string[]
  offered: readonly Readonly<{ id: string; label: string; citation: string }>[]
  canWrite: boolean
}>

/** The rules of a site, each with where it stands and how far it can be trusted. */
export async function getSiteRules(
  viewer: Viewer,
  wanted: string | string[] | undefined,
): Promise<SiteRulesView> {
  const site = await resolveSite(viewer, wanted)
  assertCan(viewer, 'site:read', site.id)
  const read = await readSiteRules(db, site.id)
  const layers = layersToday(read)
  const inForce = new Set(layers.map((layer) => `${layer.id} ${layer.version}`))
  const editions = read.local.map(localLayer)
  const known = [...RULESET_IDS.map((id) => RULESETS[id]), ...editions]
  const offered = known.filter((layer) => !read.taken.includes(layer.id))
  return {
    site,
    layers: [...layers, ALWAYS_LAYER].map(layerCard),
    waiting: known
      .filter(
        (layer) => read.taken.includes(layer.id) && !inForce.has(`${layer.id} ${layer.version}`),
      )
      .map(layerCard),
    taken: read.taken,
    offered: offered
      .filter((layer, at) => offered.findIndex((other) => other.id === layer.id) === at)
      .map(({ id, label, citation }) => ({ id, label, citation })),
    canWrite: can(viewer, 'rules:write', site.id),
  }
}

export type RulesetDesk = Readonly<{
  site: ResolvedSite
  today: string
  /** The layers in force there now, on which a new one is tried. */
  layers: readonly Layer[]
  /** Every edition of the rulesets that were typed in. */
  known: readonly Layer[]
}>

/** What an administrator needs to type a ruleset in: the layers that it is tried beside. */
export async function getRulesetDesk(
  viewer: Viewer,
  wanted: string | string[] | undefined,
): Promise<RulesetDesk> {
  const site = await resolveSite(viewer, wanted)
  assertCan(viewer, 'rules:write', site.id)
  const read = await readSiteRules(db, site.id)
  return {
    site,
    today: localDay(read.now, read.zone),
    layers: layersToday(read),
    known: read.local.map(localLayer),
  }
}

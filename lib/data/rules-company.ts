import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { localDay } from '@/lib/format/local-time'
import { ALWAYS_LAYER, type CompanyLayer } from '@/lib/rules/layers'
import { changedParameters, companyProblems, missingCompanyParameters } from '@/lib/rules/local'
import type { Layer } from '@/lib/rules/types'
import { type CompanyLayerInput, typedParameters } from '@/lib/schemas/rules'
import { db } from './client'
import { once } from './client-keys'
import { keptCompanyLayer } from './company-layer'
import { refuseRules } from './rules-refuse'
import { type LocalRulesetRow, siteLayersOn } from './rulesets-local'
import { type ResolvedSite, resolveSite } from './sites'
import { inTransaction, type Tx } from './tx'

type CompanyFloors = Readonly<{
  company: CompanyLayer
  /** What the company's numbers may not be laxer than. */
  floors: readonly Layer[]
  /** An administrator of some sites only may tighten the layer of all of them, not loosen it. */
  mayOnlyTighten: boolean
}>
export type CompanyDesk = CompanyFloors & Readonly<{ site: ResolvedSite }>

async function readFloors(tx: Tx, viewer: Viewer): Promise<CompanyFloors> {
  const mine = sitesWhere(viewer, 'rules:write')
  const [row] = await tx.$queryRaw<
    {
      sites: { id: string; zone: string; taken: string[] }[]
      local: LocalRulesetRow[]
      company: { params: unknown; citation: string } | null
      company_no: number
      now: Date
    }[]
  >`
    SELECT kerf_now() AS now,
      coalesce((SELECT jsonb_agg(jsonb_build_object('id', s.id, 'zone', s.zone, 'taken', coalesce(
        (SELECT jsonb_agg(r.ruleset_id) FROM site_rulesets r WHERE r.site_id = s.id AND r.to_at IS NULL), '[]')))
        FROM sites s), '[]') AS sites,
      coalesce((SELECT jsonb_agg(to_jsonb(l)) FROM local_rulesets l), '[]') AS local,
      (SELECT to_jsonb(c) FROM company_layers c ORDER BY c.from_at DESC, c.id DESC LIMIT 1) AS company,
      (SELECT count(*)::int FROM company_layers) AS company_no`
  if (!row) throw new Error('the database told no layers')
  const perSite = row.sites.map(({ taken, zone }) =>
    siteLayersOn(taken, row.local, localDay(row.now, zone)),
  )
  // A number laxer than a text that holds everywhere would count for nothing anywhere.
  const everywhere = (perSite[0] ?? []).filter((layer) =>
    perSite.every((layers) => layers.some((other) => other.id === layer.id)),
  )
  const company = keptCompanyLayer(row.company, row.company_no)
  const mayOnlyTighten = row.sites.some((site) => !mine.includes(site.id))
  const floors = [...everywhere, ALWAYS_LAYER, ...(mayOnlyTighten ? [company] : [])]
  return { company, floors, mayOnlyTighten }
}

/** The company's own layer, for whoever may change it. */
export async function getCompanyLayer(
  viewer: Viewer,
  wanted: string | string[] | undefined,
): Promise<CompanyDesk> {
  const site = await resolveSite(viewer, wanted)
  assertCan(viewer, 'rules:write', site.id)
  return { site, ...(await readFloors(db, viewer)) }
}

/** A new edition of the company's own numbers. It can only be stricter than the texts in force everywhere. */
export async function saveCompanyLayer(
  viewer: Viewer,
  input: CompanyLayerInput,
): Promise<{ version: number }> {
  assertCan(viewer, 'rules:write', input.siteId)
  return inTransaction(viewer, 'rules:company', (tx) =>
    once(tx, viewer, { key: input.key, action: 'rules:company', input }, async () => {
      const { company, floors } = await readFloors(tx, viewer)
      const typed = typedParameters(input)
      refuseRules([
        ...missingCompanyParameters(typed),
        ...companyProblems(changedParameters(typed, company.parameters), floors),
      ])
      await tx.companyLayer.create({
        select: { id: true },
        data: {
          id: uuidv7(),
          params: { ...typed },
          citation: input.citation,
          addedBy: viewer.personId,
        },
      })
      return { version: company.version + 1 }
    }),
  )
}

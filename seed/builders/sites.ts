import { v7 as uuidv7 } from 'uuid'
import type { AreaFacts } from '@/lib/permit/survey'
import { COMPANY_LAYER } from '@/lib/rules/layers'
import type { RulesetId } from '@/lib/rules/types'
import { type Db, playNow } from '../play'
import type { Post } from '../records/permit'
import { writeSetUp } from '../records/scribe'
import { insertReference } from '../reference'

export type BuiltArea = Readonly<{
  id: string
  name: string
  facts: AreaFacts
  posts: readonly Post[]
}>
export type BuiltSite = Readonly<{
  id: string
  name: string
  zone: string
  rulesets: readonly RulesetId[]
  /** Under permit. */
  area: BuiltArea
  /** A second one, that no single view covers together with the first. */
  otherArea: BuiltArea
  designatedArea: BuiltArea
}>

const FACTS: AreaFacts = {
  indoors: true,
  enclosed: false,
  confinedSpace: false,
  sprinklers: false,
  detection: false,
  floor: 'noncombustible',
  wall: 'noncombustible',
  levelFt: 0,
}

/** The company with its layer and reference tables, once a database. Needs the owner's connection. */
export async function buildCompany(db: Db): Promise<void> {
  await insertReference(db)
  await db.query(
    `INSERT INTO company (id, name, zone, currency)
     SELECT $1, 'Ferrow Dunn Cutting', 'America/New_York', 'USD' WHERE NOT EXISTS (SELECT 1 FROM company)`,
    [uuidv7()],
  )
}

const area = (name: string, codes: readonly string[] = []): BuiltArea => {
  const id = uuidv7()
  return {
    id,
    name,
    facts: FACTS,
    posts: ['At the work', 'Below'].map((post, i) => ({
      ...{ id: post, name: post },
      ...(codes[i] ? { code: codes[i] } : {}),
    })),
  }
}

export type SiteWanted = Readonly<{
  name?: string
  zone?: string
  rulesets?: readonly RulesetId[]
  /** What hangs at the posts of the area under permit, in their order. */
  codes?: readonly string[]
}>

/** A site with two areas under permit, a designated one, and rulesets in force. */
export async function buildSite(db: Db, wanted: SiteWanted = {}): Promise<BuiltSite> {
  await buildCompany(db)
  const id = uuidv7()
  const site: BuiltSite = {
    id,
    name: wanted.name ?? `Site ${id.slice(0, 8)}-${id.slice(-6)}`,
    zone: wanted.zone ?? 'America/New_York',
    rulesets: wanted.rulesets ?? ['us-osha-1910', 'us-ifc-2018', 'us-nfpa51b-2019'],
    area: area('Bay 1', wanted.codes),
    otherArea: area('Bay 2'),
    designatedArea: area('Shop bay'),
  }
  const hasLayer = (await db.query('SELECT 1 FROM company_layers LIMIT 1')).rowCount
  await playNow(db, (scribe) => {
    writeSetUp(scribe, 0, 'sites', {
      id,
      name: site.name,
      short_name: site.name,
      kind: 'mill',
      zone: site.zone,
      address: '1 Test Road',
      emergency_words: 'Pull station at the door, then 911.',
      delivery_days: [1, 3, 5],
    })
    for (const built of [site.area, site.otherArea, site.designatedArea]) {
      writeSetUp(scribe, 0, 'areas', {
        id: built.id,
        site_id: id,
        name: built.name,
        area_class: built === site.designatedArea ? 'designated' : 'permit',
        facts: { json: built.facts },
        posts: { json: built.posts },
      })
    }
    for (const rulesetId of site.rulesets) {
      writeSetUp(scribe, 0, 'site_rulesets', { id: uuidv7(), site_id: id, ruleset_id: rulesetId })
    }
    if (!hasLayer) {
      const layer = {
        id: uuidv7(),
        params: { json: COMPANY_LAYER.parameters },
        citation: COMPANY_LAYER.citation,
      }
      writeSetUp(scribe, 0, 'company_layers', layer)
    }
  })
  return site
}

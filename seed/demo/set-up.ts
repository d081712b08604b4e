import { COMPANY_LAYER } from '@/lib/rules/layers'
import type { Row } from '../facts'
import { writeSetUp } from '../records/scribe'
import { addDays, localDay } from '../zones'
import { agreementRows, rentTermsRows, vehicleRows } from './agreements'
import { chartRow } from './charts'
import { companyRow, grantRows, qualificationRows } from './company-rows'
import { outfitPartRows, outfitRow } from './outfits'
import { CREWS, type CrewKey, emailOf, PEOPLE } from './people'
import { postsOf, SITES } from './places'
import { priceRows, SUPPLIERS, supplierIdOf } from './suppliers'
import { personId, type World } from './world'

/** Hashes that the set-up stores; made once, since argon2 is meant to be slow. */
export type Secrets = Readonly<{ passwordHash: string; pinHashes: ReadonlyMap<string, string> }>

function writePlaces(world: World): void {
  const { scribe, startMs } = world
  const sites = SITES.map(
    (site): Row => ({
      id: world.siteIds[site.key],
      name: site.name,
      short_name: site.shortName,
      kind: site.kind,
      zone: site.zone,
      address: site.address,
      emergency_words: site.emergencyWords,
      shift_ends: site.shiftEnds,
      shift_starts: [...site.shiftStarts],
      delivery_days: [...site.deliveryDays],
    }),
  )
  writeSetUp(scribe, startMs, 'sites', ...sites)
  const views = new Map<string, string>()
  for (const site of SITES) {
    for (const area of site.areas) {
      const view = area.view ? `${site.key}/${area.view}` : null
      if (view && !views.has(view)) views.set(view, scribe.newId(startMs))
      writeSetUp(scribe, startMs, 'areas', {
        id: world.areaIds.get(`${site.key}/${area.key}`) ?? null,
        site_id: world.siteIds[site.key],
        name: area.name,
        area_class: area.areaClass,
        view_id: view ? (views.get(view) ?? null) : null,
        facts: { json: area.facts },
        posts: { json: postsOf(area) },
        designated_looked_at:
          area.areaClass === 'designated' ? new Date(world.nowMs - 6 * 3_600_000) : null,
      })
    }
  }
}

function writePeople(world: World, secrets: Secrets): void {
  const { scribe, startMs } = world
  const startDay = localDay('America/New_York', startMs)
  const people = PEOPLE.map(
    (person): Row => ({
      id: personId(world, person.key),
      name: person.name,
      email: emailOf(person),
      password_hash: secrets.passwordHash,
      pin_hash: secrets.pinHashes.get(person.key) ?? null,
      phone: null,
    }),
  )
  writeSetUp(scribe, startMs, 'people', ...people)
  for (const person of PEOPLE) {
    writeSetUp(scribe, startMs, 'grants', ...grantRows(world, person))
    const qualifications = qualificationRows(world, person, startDay)
    if (qualifications.length > 0) writeSetUp(scribe, startMs, 'qualifications', ...qualifications)
  }
}

function writeCrews(world: World): void {
  const { scribe, startMs } = world
  for (const key of Object.keys(CREWS) as CrewKey[]) {
    const crew = CREWS[key]
    const id = world.crewIds[key]
    writeSetUp(scribe, startMs, 'crews', { id, site_id: world.siteIds[crew.site], name: crew.name })
    const members = PEOPLE.filter((person) => person.crew === key).map(
      (person): Row => ({
        id: scribe.newId(startMs),
        crew_id: id,
        person_id: personId(world, person.key),
        from_date: localDay('America/New_York', startMs),
      }),
    )
    writeSetUp(scribe, startMs, 'crew_members', ...members)
  }
}

function writeRules(world: World): void {
  const { scribe, startMs } = world
  const rulesets = SITES.flatMap((site) =>
    site.rulesets.map(
      (rulesetId): Row => ({
        id: scribe.newId(startMs),
        site_id: world.siteIds[site.key],
        ruleset_id: rulesetId,
        from_at: new Date(startMs),
        added_by: personId(world, 'nils'),
      }),
    ),
  )
  writeSetUp(scribe, startMs, 'site_rulesets', ...rulesets)
  writeSetUp(scribe, startMs, 'company_layers', {
    id: scribe.newId(startMs),
    from_at: new Date(startMs),
    params: { json: COMPANY_LAYER.parameters },
    citation: COMPANY_LAYER.citation,
    added_by: personId(world, 'nils'),
  })
}

function writeGear(world: World): void {
  const { scribe, startMs } = world
  writeSetUp(scribe, startMs, 'suppliers', ...SUPPLIERS.map(({ row }) => row))
  writeSetUp(scribe, startMs, 'prices', ...priceRows(world))
  writeSetUp(scribe, startMs, 'supply_agreements', ...agreementRows(world))
  writeSetUp(scribe, startMs, 'rent_terms', ...rentTermsRows(world))
  writeSetUp(scribe, startMs, 'vehicles', ...vehicleRows(world))
  writeSetUp(scribe, startMs, 'tip_charts', chartRow(world))
  writeSetUp(scribe, startMs, 'outfits', ...world.rigs.map((rig) => outfitRow(world, rig)))
  const checkedOn = addDays(localDay('America/New_York', world.nowMs), -40)
  writeSetUp(
    scribe,
    startMs,
    'outfit_parts',
    ...world.rigs.flatMap((rig) => outfitPartRows(world, rig, checkedOn)),
  )
  const cylinders = world.bottles.map(
    (bottle): Row => ({
      id: bottle.id,
      serial: bottle.serial,
      gas_id: bottle.gas,
      size_id: bottle.sizeId,
      spec: bottle.gas === 'oxygen' ? 'DOT 3AA' : bottle.gas === 'acetylene' ? 'DOT 8' : 'DOT 4BA',
      tare_kg: bottle.tareKg,
      ownership: 'rented',
      supplier_id: supplierIdOf(bottle.supplier),
      due_month: bottle.dueMonth,
    }),
  )
  writeSetUp(scribe, startMs, 'cylinders', ...cylinders)
}

/** Everything that stands before the first day of history. */
export function writeCompany(world: World, secrets: Secrets): void {
  writeSetUp(world.scribe, world.startMs, 'company', companyRow(world))
  writePlaces(world)
  writePeople(world, secrets)
  writeRules(world)
  writeCrews(world)
  writeGear(world)
}

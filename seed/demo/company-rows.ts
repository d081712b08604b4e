import type { Role } from '@/lib/access/access'
import type { Row } from '../facts'
import { namedUuid } from '../ids'
import { addDays, localDay } from '../zones'
import type { PersonPlan } from './people'
import { SITES, type SiteKey } from './places'
import { personId, type World } from './world'

export function companyRow(world: World): Row {
  return {
    id: world.scribe.newId(world.startMs),
    name: 'Ferrow Dunn Cutting',
    zone: 'America/New_York',
    currency: 'USD',
    is_demo: true,
  }
}

/** One grant a role and site. */
export function grantRows(world: World, person: PersonPlan): Row[] {
  const everywhere: SiteKey[] = SITES.map((site) => site.key)
  return person.grants.flatMap(({ site, roles }) =>
    (site === 'everywhere' ? everywhere : [site]).flatMap((key) =>
      roles.map((role) => ({
        id: world.scribe.newId(world.startMs),
        person_id: personId(world, person.key),
        site_id: world.siteIds[key],
        role,
        granted_by: personId(world, 'nils'),
      })),
    ),
  )
}

const QUALIFICATION_OF: Partial<Record<Role, 'torch_operator' | 'fire_watch' | 'pai'>> = {
  operator: 'torch_operator',
  fire_watch: 'fire_watch',
  pai: 'pai',
}
const EVIDENCE = {
  torch_operator: 'Cutting test piece, witnessed',
  fire_watch: 'Extinguisher and alarm drill',
  pai: 'Company PAI course',
} as const

/** Trained to drive what is past materials of trade. */
const DRIVERS: ReadonlySet<string> = new Set(['otis', 'sam'])

/** Valid from before the first day; Owen Reyes' end in twelve days, so that somebody has to act. */
export function qualificationRows(world: World, person: PersonPlan, startDay: string): Row[] {
  const today = localDay('America/New_York', world.nowMs)
  const validUntil = addDays(today, person.key === 'owen' ? 12 : 210)
  const kinds = person.grants
    .flatMap(({ roles }) => roles.map((role) => QUALIFICATION_OF[role]))
    .filter((kind) => kind !== undefined)
  const own = [...new Set(kinds)].map((kind) => ({
    id: world.scribe.newId(world.startMs),
    person_id: personId(world, person.key),
    kind,
    valid_from: addDays(startDay, -30),
    valid_until: validUntil,
    evidence: EVIDENCE[kind],
    recorded_by: personId(world, 'nils'),
  }))
  if (!DRIVERS.has(person.key)) return own
  return [
    ...own,
    {
      id: namedUuid(`driver/${person.key}`, world.startMs),
      person_id: personId(world, person.key),
      kind: 'hazmat_driver',
      valid_from: addDays(startDay, -30),
      valid_until: addDays(today, 400),
      evidence: 'Course and test on papers, marks and loads',
      recorded_by: personId(world, 'nils'),
    },
  ]
}

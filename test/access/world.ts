import type { Role } from '../../lib/access/access'
import { ROLES } from '../../lib/access/access'
import { buildCylinder } from '../../seed/builders/gear'
import { type BuiltPerson, buildPerson } from '../../seed/builders/people'
import {
  type BuiltPermit,
  buildClearedPermit,
  buildHeldPermit,
  buildOpenPermit,
  buildPreparedPermit,
  buildWatchPermit,
  buildWorksite,
  type Worksite,
} from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import type { TestApp } from '../e2e/app'

type Pool = TestApp['owner']
export type PermitStage = 'prepared' | 'cleared' | 'open' | 'held' | 'watch'

const BUILD = {
  prepared: buildPreparedPermit,
  cleared: buildClearedPermit,
  open: buildOpenPermit,
  held: buildHeldPermit,
  watch: buildWatchPermit,
} as const

/** What a valid input is made of: a fresh site with everything on it, and a permit at one stage of its life. */
export type Scene = Worksite &
  Readonly<{
    owner: Pool
    permit: BuiltPermit | null
    /** One person of each role at this site and nowhere else. */
    people: Readonly<Record<Role, BuiltPerson>>
    /** Holds every role, at another site. */
    stranger: BuiltPerson
    spare: Readonly<{ id: string; serial: string }>
    /** One value of the database. */
    read: <T>(sql: string, values?: readonly unknown[]) => Promise<T>
    today: string
  }>

type Cast = Pick<Scene, 'site' | 'people' | 'stranger'>
const casts = new Map<Pool, Promise<Cast>>()

async function buildCast(owner: Pool): Promise<Cast> {
  const [site, elsewhere] = [await buildSite(owner), await buildSite(owner)]
  const built: [Role, BuiltPerson][] = []
  for (const role of ROLES)
    built.push([role, await buildPerson(owner, { grants: [{ siteId: site.id, role }] })])
  const grants = ROLES.map((role) => ({ siteId: elsewhere.id, role }))
  return {
    site,
    people: Object.fromEntries(built) as Record<Role, BuiltPerson>,
    stranger: await buildPerson(owner, { grants }),
  }
}

/** A fresh job, crew and outfit for one test; site, roles and stranger are the worker's. */
export async function buildScene(owner: Pool, stage: PermitStage | null): Promise<Scene> {
  const cast = casts.get(owner) ?? buildCast(owner)
  casts.set(owner, cast)
  const { site, people, stranger } = await cast
  const worksite = await buildWorksite(owner, site)
  const spare = await buildCylinder(owner, { siteId: site.id, keeperId: worksite.team.foreman.id })
  return {
    ...worksite,
    owner,
    people,
    stranger,
    spare,
    permit: stage ? await BUILD[stage](owner, { worksite }) : null,
    today: new Intl.DateTimeFormat('en-CA', { timeZone: site.zone }).format(new Date()),
    async read<T>(sql: string, values: readonly unknown[] = []) {
      const { rows } = await owner.query(sql, [...values])
      return Object.values(rows[0] ?? {})[0] as T
    },
  }
}

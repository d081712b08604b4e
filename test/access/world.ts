import { ROLES, type Role } from '../../lib/access/access'
import { localClock, localDay } from '../../lib/format/local-time'
import { type BuiltCylinder, buildCylinder } from '../../seed/builders/gear'
import { type BuiltPerson, buildPerson } from '../../seed/builders/people'
import type { BuiltPermit } from '../../seed/builders/permits'
import { buildWorksite, type Worksite } from '../../seed/builders/permits'
import { type BuiltSite, buildSite } from '../../seed/builders/sites'
import { databaseNow } from '../../seed/play'
import type { TestApp } from '../e2e/app'
import { morningZone } from '../setup/morning-zone'
import { buildStages, type PermitStage } from './stages'

type Owner = TestApp['owner']

/** What a valid input is made of: a site with everything on it, and a permit at one stage of its life. */
export type Scene = Worksite &
  Readonly<{
    owner: Owner
    permit: BuiltPermit | null
    /** One person of each role at this site and nowhere else. */
    people: Readonly<Record<Role, BuiltPerson>>
    /** Holds every role at another site and nothing here. */
    stranger: BuiltPerson
    /** Reads here as an auditor, and holds every role at another site. */
    guest: BuiltPerson
    spare: BuiltCylinder
    /** One value of the database. */
    read: <T>(sql: string, values?: readonly unknown[]) => Promise<T>
    /** The site's day and clock some minutes from the time of the scene, as boxes hold them. */
    at: (minutes: number) => Readonly<{ day: string; clock: string }>
    today: string
  }>

type Cast = Pick<Scene, 'site' | 'people' | 'stranger' | 'guest'>
const casts = new Map<Owner, Promise<Cast>>()

const everyRoleAt = (site: BuiltSite) => ROLES.map((role) => ({ siteId: site.id, role }))

async function buildCast(owner: Owner): Promise<Cast> {
  const zone = morningZone(await databaseNow(owner))
  const [site, elsewhere] = [await buildSite(owner, { zone }), await buildSite(owner, { zone })]
  const grantsOf = (role: Role) => [{ siteId: site.id, role }]
  // Whoever may watch is qualified to, so that a refusal is never for want of a course.
  const kinds = ['fire_watch']
  const built: [Role, BuiltPerson][] = []
  for (const role of ROLES)
    built.push([role, await buildPerson(owner, { grants: grantsOf(role), kinds })])
  return {
    site,
    people: Object.fromEntries(built) as Record<Role, BuiltPerson>,
    stranger: await buildPerson(owner, { grants: everyRoleAt(elsewhere) }),
    guest: await buildPerson(owner, {
      grants: [...everyRoleAt(elsewhere), ...grantsOf('auditor')],
    }),
  }
}

type ScenesWanted = Readonly<{
  stage: PermitStage | null
  /** One scene for each; the permit's fire watch is then that person. */
  watchers?: readonly Role[]
  count?: number
  /** Another site with people of its own, where the app's other people are nobody. */
  site?: BuiltSite
}>

function sceneOf(app: TestApp, cast: Cast, worksite: Worksite, spare: Scene['spare']) {
  return (permit: BuiltPermit | null, nowMs: number): Scene => {
    const { zone } = worksite.site
    const at = (minutes: number) => {
      const when = new Date(nowMs + minutes * 60_000)
      return { day: localDay(when, zone), clock: localClock(when, zone) }
    }
    return {
      ...cast,
      ...worksite,
      owner: app.owner,
      spare,
      permit,
      at,
      today: at(0).day,
      async read<T>(sql: string, values: readonly unknown[] = []) {
        const { rows } = await app.owner.query(sql, [...values])
        return Object.values(rows[0] ?? {})[0] as T
      },
    }
  }
}

/** Fresh jobs, crews and outfits, built together; site, roles and strangers are the app's. */
export async function buildScenes(app: TestApp, wanted: ScenesWanted): Promise<Scene[]> {
  const { owner } = app
  const casting = casts.get(owner) ?? buildCast(owner)
  casts.set(owner, casting)
  const cast = await casting
  const watchers = wanted.watchers ?? Array.from({ length: wanted.count ?? 1 }, () => null)
  const grounds: Worksite[] = []
  const spares: BuiltCylinder[] = []
  for (const role of watchers) {
    const built = await buildWorksite(owner, wanted.site ?? cast.site)
    const { foreman } = built.team
    const fireWatch = role ? cast.people[role] : built.team.fireWatch
    grounds.push({ ...built, team: { ...built.team, fireWatch } })
    spares.push(await buildCylinder(owner, { siteId: built.site.id, keeperId: foreman.id }))
  }
  const permits = wanted.stage ? await buildStages(app, wanted.stage, grounds) : []
  const nowMs = await databaseNow(owner)
  return grounds.map((ground, i) => {
    const spare = spares[i]
    if (!spare) throw new Error('a scene has no spare cylinder')
    return sceneOf(app, cast, ground, spare)(permits[i] ?? null, nowMs)
  })
}

export async function buildScene(app: TestApp, stage: PermitStage | null): Promise<Scene> {
  const [scene] = await buildScenes(app, { stage })
  if (!scene) throw new Error('no scene was built')
  return scene
}

import { hash } from '@node-rs/argon2'
import type pg from 'pg'
import { v7 as uuidv7 } from 'uuid'
import type { Role } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { db } from '@/lib/data/client'
import { loadPermitContext, type PermitContext } from '@/lib/data/permits/context'
import { BUILT_PIN, type BuiltPerson, buildPerson } from '../../seed/builders/people'
import { type BuiltPermit, buildClearedPermit, buildWorksite } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { moveClock } from './clock'

export type Pools = Readonly<{ owner: pg.Pool; runtime: pg.Pool }>
export type Who = 'foreman' | 'operator' | 'fireWatch' | 'pai' | 'relief'

const ROLES: Readonly<Record<Who, Role>> = {
  foreman: 'foreman',
  operator: 'operator',
  fireWatch: 'fire_watch',
  pai: 'pai',
  relief: 'fire_watch',
}
const MINUTE_MS = 60_000

/** One permit's life: its people, its database, and a clock that runs on and can be moved. */
export interface Stage extends Pools {
  built: BuiltPermit
  permitId: string
  people: Readonly<Record<Who, BuiltPerson>>
  viewer: (who: Who) => Viewer
  pass: (minutes: number) => Promise<void>
  /** The permit as it was read last, by lib/data; an act or time that passes makes it read anew. */
  context: () => Promise<PermitContext>
  /** The permit is to be read anew. */
  forget: () => void
  /** What every form on this permit carries. */
  form: () => Promise<{ key: string; permitId: string; version: string; contentHash: string }>
  /** Takes the permit out of what moves by time, so that it is in nobody's way afterwards. */
  retire: () => Promise<void>
}

// A PIN that is quick to check: what it protects is not what is tried here.
const cheapPin = hash(BUILT_PIN, { memoryCost: 8, timeCost: 1, parallelism: 1 })

async function cast(owner: pg.Pool, built: BuiltPermit): Promise<Stage['people']> {
  const relief = await buildPerson(owner, {
    grants: [{ siteId: built.site.id, role: 'fire_watch' }],
    kinds: ['fire_watch'],
  })
  const { foreman, operator, fireWatch, pai } = built.team
  const people = { foreman, operator, fireWatch, pai, relief }
  const ids = Object.values(people).map((person) => person.id)
  await owner.query('UPDATE people SET pin_hash = $1 WHERE id = ANY($2::uuid[])', [
    await cheapPin,
    ids,
  ])
  return people
}

/** When and where a life begins. */
export type Beginning = Readonly<{ at: Date; zone: string; isCoded?: boolean }>

/** What hangs at the area's posts where they carry codes. */
export const CODES = ['PK7W-2M4Q', 'PX3H-9T8B'] as const

/** Before any life begins. */
const COMPANY_FROM = Date.UTC(2026, 10, 1)
const founded = new WeakSet<pg.Pool>()

/**
 * The company's own layer stands before any life, for all of them: the first life's own would come into
 * force in the middle of another that begins in the same minute, and rightly void what was signed there.
 */
async function foundCompany(owner: pg.Pool): Promise<void> {
  if (founded.has(owner)) return
  await moveClock(owner, COMPANY_FROM - Date.now())
  await buildSite(owner)
  founded.add(owner)
}

/** A cleared permit at a new site, at the hour that its life begins. */
export async function openStage(
  pools: Pools,
  { at, zone, isCoded = false }: Beginning,
): Promise<Stage> {
  const { owner } = pools
  await foundCompany(owner)
  const aheadMs = at.getTime() - Date.now()
  await moveClock(owner, aheadMs)
  const built = await buildClearedPermit(owner, {
    worksite: await buildWorksite(
      owner,
      await buildSite(owner, { zone, codes: isCoded ? CODES : [] }),
    ),
  })
  const people = await cast(owner, built)
  const permitId = built.permit.id
  let minutes = 0
  let known: Promise<PermitContext> | null = null
  const forget = () => {
    known = null
  }
  const context = () => {
    known ??= loadPermitContext(db, permitId)
    return known
  }
  return {
    ...pools,
    built,
    permitId,
    people,
    context,
    forget,
    viewer: (who) => ({
      personId: people[who].id,
      name: people[who].name,
      grants: [{ siteId: built.site.id, role: ROLES[who] }],
      roles: [ROLES[who]],
      units: 'us',
      clock: '24',
      theme: 'device',
    }),
    async pass(more) {
      minutes += more
      await moveClock(owner, aheadMs + minutes * MINUTE_MS)
      forget()
    },
    async form() {
      const { permit, content_hash } = (await context()).bundle
      return {
        key: uuidv7(),
        permitId,
        version: String(permit.version),
        contentHash: content_hash,
      }
    },
    async retire() {
      // As owner and past the triggers: no act of anybody's could.
      await owner.query(`BEGIN; SET LOCAL session_replication_role = replica;
        DELETE FROM permits WHERE id = '${permitId}'; COMMIT`)
    },
  }
}

export const PIN = BUILT_PIN

import { hash } from '@node-rs/argon2'
import type pg from 'pg'
import { v7 as uuidv7 } from 'uuid'
import type { Role } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { movedClockSql } from '@/lib/data/kerf-now'
import { BUILT_PIN, type BuiltPerson, buildPerson } from '../../seed/builders/people'
import { type BuiltPermit, buildClearedPermit, buildWorksite } from '../../seed/builders/permits'

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
  /** Minutes that this life has been moved on. */
  moved: { minutes: number }
  pass: (minutes: number) => Promise<void>
  row: () => Promise<PermitNow>
  /** What every form on this permit carries. */
  form: () => Promise<{ key: string; permitId: string; version: string; contentHash: string }>
}

export interface PermitNow {
  state: string
  version: number
  survey_no: number
  /** Of what a signer sees now. */
  content_hash: string
  now: Date
  valid_until: Date | null
  torch_out_at: Date | null
  stop_pressed_at: Date | null
  stopped_at: Date | null
  watch_minutes: number | null
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

/** A cleared permit at a new site, at the hour it is now. */
export async function openStage(pools: Pools): Promise<Stage> {
  const { owner } = pools
  await owner.query(movedClockSql(0))
  const built = await buildClearedPermit(owner, { worksite: await buildWorksite(owner) })
  const people = await cast(owner, built)
  const permitId = built.permit.id
  const moved = { minutes: 0 }
  const row = async () => {
    const { rows } = await owner.query<PermitNow>(
      'SELECT *, kerf_now() AS now, kerf_permit_hash(id) AS content_hash FROM permits WHERE id = $1',
      [permitId],
    )
    if (!rows[0]) throw new Error('the permit is gone')
    return rows[0]
  }
  return {
    ...pools,
    built,
    permitId,
    people,
    moved,
    row,
    viewer: (who) => ({
      personId: people[who].id,
      name: people[who].name,
      grants: [{ siteId: built.site.id, role: ROLES[who] }],
      roles: [ROLES[who]],
      units: 'us',
      clock: '24',
      theme: 'device',
    }),
    async pass(minutes) {
      moved.minutes += minutes
      await owner.query(movedClockSql(moved.minutes * MINUTE_MS))
    },
    async form() {
      const { version, content_hash } = await row()
      return { key: uuidv7(), permitId, version: String(version), contentHash: content_hash }
    },
  }
}

export const PIN = BUILT_PIN

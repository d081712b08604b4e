import { randomUUID } from 'node:crypto'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { swapCylinder } from '@/lib/data/swaps'
import type { SwapInput } from '@/lib/schemas/swap'
import {
  insertLog,
  issueData,
  openPermit,
  permitSteps,
  preparePermit,
  step,
} from '../data/invariants/permit-steps'
import { asRuntime, newWorld, refusal, type World } from '../data/invariants/world'
import { testDatabase } from '../setup/database'

const database = testDatabase()
let world: World

beforeEach(async () => {
  world = await newWorld(database)
})
afterEach(() => database.setClock(0))

const viewerOf = (personId: string): Viewer => ({
  personId,
  name: 'Op One',
  grants: [{ siteId: world.siteId, role: 'operator' }],
  roles: ['operator'],
  units: 'us',
  clock: '24',
  theme: 'device',
})

async function fullCylinder(): Promise<string> {
  const serial = `S${randomUUID().slice(0, 8).toUpperCase()}`
  await asRuntime(database, world.operator, async (client) => {
    const id = randomUUID()
    await client.query(
      `INSERT INTO cylinders (id, serial, gas_id, size_id, spec) VALUES ($1, $2, 'oxygen', 'oxygen-244', 's')`,
      [id, serial],
    )
    await client.query(
      `INSERT INTO cylinder_events (id, cylinder_id, kind, site_id, person_id, role_then) VALUES ($1, $2, 'received', $3, $4, 'yard_hand')`,
      [randomUUID(), id, world.siteId, world.operator],
    )
  })
  return serial
}

async function newOutfit(): Promise<string> {
  const id = randomUUID()
  await database.owner.query(
    `INSERT INTO outfits (id, site_id, number, fuel_gas_id) VALUES ($1::uuid, $2, $3, 'acetylene')`,
    [id, world.siteId, id],
  )
  return id
}

const swapInput = (fields: Pick<SwapInput, 'onSerial'> & Partial<SwapInput>): SwapInput => ({
  key: randomUUID(),
  outfitId: world.outfitId,
  side: 'oxygen',
  place: 1,
  permitId: null,
  offCylinderId: null,
  markedEmpty: false,
  shutAndBled: true,
  leakTested: true,
  foundOn: false,
  reason: null,
  offReading: null,
  ...fields,
})

async function countOf(sql: string, values: readonly unknown[]): Promise<number> {
  const { rows } = await database.owner.query<{ n: number }>(sql, [...values])
  return rows[0]?.n ?? Number.NaN
}

describe('swaps at the same moment', () => {
  test('two submissions of the same swap make one', async () => {
    const input = swapInput({ onSerial: await fullCylinder() })
    const [first, second] = await Promise.all([
      swapCylinder(viewerOf(world.operator), input),
      swapCylinder(viewerOf(world.operator), input),
    ])
    expect(second).toEqual(first)
    expect(
      await countOf('SELECT count(*)::int AS n FROM swaps WHERE outfit_id = $1', [world.outfitId]),
    ).toBe(1)
    expect(
      await countOf(
        `SELECT count(*)::int AS n FROM cylinder_events WHERE outfit_id = $1 AND kind = 'put_on'`,
        [world.outfitId],
      ),
    ).toBe(1)
  })

  test('of two swaps for one cylinder one is refused, and says why', async () => {
    const onSerial = await fullCylinder()
    const outfitId = await newOutfit()
    const outcomes = await Promise.allSettled([
      swapCylinder(viewerOf(world.operator), swapInput({ onSerial })),
      swapCylinder(viewerOf(world.otherOperator), swapInput({ onSerial, outfitId })),
    ])
    expect(outcomes.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(1)
    const refused = outcomes.find((outcome) => outcome.status === 'rejected')
    expect(refused?.reason).toMatchObject({
      name: 'AppError',
      code: 'CYLINDER_ON_OUTFIT',
      params: { serial: onSerial },
    })
  })

  test('of two cylinders for one place one is refused', async () => {
    const [a, b] = [await fullCylinder(), await fullCylinder()]
    const outcomes = await Promise.allSettled(
      [a, b].map((onSerial) => swapCylinder(viewerOf(world.operator), swapInput({ onSerial }))),
    )
    expect(outcomes.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(1)
    expect(outcomes.find((outcome) => outcome.status === 'rejected')?.reason).toMatchObject({
      code: 'PLACE_TAKEN',
    })
  })
})

test('fifty parallel attempts to end a watch before its time all fail, and the permit stays on watch', async () => {
  const permitId = await openPermit(database, world)
  await step(database, world, permitId, ({ event }) => event('work_ended'))
  await database.setClock(59 * 60_000)
  const attempts = Array.from({ length: 50 }, () =>
    refusal(step(database, world, permitId, ({ event }) => event('closed'))),
  )
  for (const refused of await Promise.all(attempts))
    expect(refused.codes).toContain('WATCH_NOT_DONE')
  expect(
    await countOf(
      `SELECT count(*)::int AS n FROM permits WHERE id = $1 AND state = 'watch' AND closed_at IS NULL`,
      [permitId],
    ),
  ).toBe(1)
})

const LANES = 8
const RACES_PER_LANE = 125
/** Every so many races the permit is closed for good and a new one opened. */
const CLOSE_EVERY = 5

const NO_DUTIES = { watchMin: 0, finalLookMin: 0, posts: [] }

async function openBriefPermit(lane: World): Promise<string> {
  return asRuntime(database, lane.pai, async (client) => {
    // Not with a flame: after that somebody always watches.
    const permitId = await preparePermit(client, lane, { process: 'arc_welding' })
    const { event, sign, walk } = permitSteps(client, lane, permitId)
    await walk()
    await event('cleared')
    await sign('agree', 'operator', lane.operator)
    await sign('acknowledge', 'fire_watch', lane.watch)
    await sign('issue', 'pai', lane.pai)
    await event('issued', {
      data: { ...(await issueData(client, { duties: NO_DUTIES })), watchRequired: false },
    })
    return permitId
  })
}

/** A log of a few milliseconds of work that end about when it is written down. */
const logAboutNow = (lane: World, permitId: string, aheadMs: number) =>
  asRuntime(database, lane.operator, async (client) => {
    const { rows } = await client.query<{ now: Date }>('SELECT kerf_now() AS now')
    const to = (rows[0]?.now.getTime() ?? 0) + aheadMs
    return insertLog(client, lane, { permitId, from: new Date(to - 1), to: new Date(to) })
  })

const hold = (lane: World, permitId: string) =>
  step(database, lane, permitId, ({ event }) => event('held', { data: { reason: 'break' } }))
const resume = (lane: World, permitId: string) =>
  step(database, lane, permitId, async ({ answer, sign, event }) => {
    await answer()
    await sign('resume', 'pai', lane.pai)
    await event('resumed')
  })
const endAndClose = (lane: World, permitId: string) =>
  step(database, lane, permitId, async ({ event, sign }) => {
    await event('work_ended')
    await event('final_look', { personId: lane.watch })
    await sign('final_pai', 'pai', lane.pai)
    await event('closed')
  })

async function runLane(): Promise<{ kept: number; refused: Set<string> }> {
  const lane = await newWorld(database)
  const refused = new Set<string>()
  let kept = 0
  let permitId = await openBriefPermit(lane)
  for (let race = 0; race < RACES_PER_LANE; race += 1) {
    const isClosing = race % CLOSE_EVERY === CLOSE_EVERY - 1
    const end = isClosing ? endAndClose(lane, permitId) : hold(lane, permitId)
    const [logged] = await Promise.allSettled([logAboutNow(lane, permitId, (race % 5) - 1), end])
    await end
    if (logged.status === 'fulfilled') kept += 1
    else for (const code of (await refusal(Promise.reject(logged.reason))).codes) refused.add(code)
    if (isClosing) permitId = await openBriefPermit(lane)
    else await resume(lane, permitId)
  }
  return { kept, refused }
}

test('a log that races a hold or a close never ends up outside the permit’s open time, in a thousand races', {
  timeout: 240_000,
}, async () => {
  const lanes = await Promise.all(Array.from({ length: LANES }, runLane))
  const kept = lanes.reduce((sum, lane) => sum + lane.kept, 0)
  const refused = new Set(lanes.flatMap((lane) => [...lane.refused]))
  // Both ends of the race must have been seen, or the test has shown nothing.
  expect(kept).toBeGreaterThan(50)
  expect(kept).toBeLessThan(LANES * RACES_PER_LANE)
  expect([...refused]).toContain('NOT_OPEN')
  const outside = await countOf(
    `SELECT count(*)::int AS n FROM hot_work_logs l WHERE NOT EXISTS (
       SELECT 1 FROM permit_open_spans o WHERE o.permit_id = l.permit_id AND o.from_at <= l.from_at AND coalesce(o.to_at, 'infinity') >= l.to_at)`,
    [],
  )
  expect(outside).toBe(0)
  expect(await countOf('SELECT count(*)::int AS n FROM hot_work_logs', [])).toBe(kept)
})

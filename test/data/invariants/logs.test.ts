import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { testDatabase } from '../../setup/database'
import { clockNow, insertLog, openPermit, permitState, step } from './permit-steps'
import { asRuntime, newWorld, refusal, type World } from './world'

const MINUTE_MS = 60_000
const database = testDatabase()
let world: World

beforeEach(async () => {
  world = await newWorld(database)
})
afterEach(() => database.setClock(0))

const ago = (now: Date, minutes: number) => new Date(now.getTime() - minutes * MINUTE_MS)

/** A permit opened an hour ago, in an hour that the clock then passed. */
async function openSinceAnHour() {
  await database.setClock(-60 * MINUTE_MS)
  const permitId = await openPermit(database, world)
  await database.setClock(0)
  return { permitId, now: await clockNow(database) }
}

const log = (fields: Parameters<typeof insertLog>[2]) =>
  asRuntime(database, world.operator, (client) => insertLog(client, world, fields))

describe('hot work is logged only under a permit that was open throughout, or in a designated area', () => {
  test('a log within the open time is kept, and is not late', async () => {
    const { permitId, now } = await openSinceAnHour()
    const { rows } = await log({ permitId, from: ago(now, 50), to: ago(now, 5) })
    expect(rows[0]?.late).toBe(false)
  })

  test('a log written down more than half an hour afterwards is marked late, whatever was sent', async () => {
    const { permitId, now } = await openSinceAnHour()
    const { rows } = await log({ permitId, from: ago(now, 50), to: ago(now, 40) })
    expect(rows[0]?.late).toBe(true)
  })

  test('a log that begins before the permit opened is refused', async () => {
    const { permitId, now } = await openSinceAnHour()
    const refused = await refusal(log({ permitId, from: ago(now, 61), to: ago(now, 5) }))
    expect(refused.codes).toEqual(['NOT_OPEN', 'NOT_OPERATOR'])
  })

  test('a log across a hold is refused, one on each side of it is kept', async () => {
    const { permitId } = await openSinceAnHour()
    await step(database, world, permitId, ({ event }) =>
      event('held', { data: { reason: 'break' } }),
    )
    const held = (await permitState(database, permitId)).torch_out_at ?? new Date(0)
    await database.setClock(10 * MINUTE_MS)
    await step(database, world, permitId, async ({ answer, sign, event }) => {
      await answer()
      await sign('resume', 'pai', world.pai)
      await event('resumed')
    })
    await database.setClock(20 * MINUTE_MS)
    const across = await refusal(
      log({ permitId, from: ago(held, 5), to: new Date(held.getTime() + 15 * MINUTE_MS) }),
    )
    expect(across.codes).toContain('NOT_OPEN')
    await log({ permitId, from: ago(held, 5), to: held })
    await log({
      permitId,
      from: new Date(held.getTime() + 11 * MINUTE_MS),
      to: new Date(held.getTime() + 15 * MINUTE_MS),
    })
  })

  test('a log past the permit’s end is refused though nobody has said yet that it expired', async () => {
    await database.setClock(-60 * MINUTE_MS)
    const permitId = await openPermit(database, world, { validForMs: 30 * MINUTE_MS })
    await database.setClock(0)
    const now = await clockNow(database)
    const refused = await refusal(log({ permitId, from: ago(now, 40), to: ago(now, 10) }))
    expect(refused.codes).toContain('NOT_OPEN')
  })

  test('every other reason is told at once: area, operator, qualification', async () => {
    const { permitId, now } = await openSinceAnHour()
    const refused = await refusal(
      log({
        permitId,
        areaId: world.deck,
        operatorId: world.novice,
        from: ago(now, 20),
        to: ago(now, 5),
      }),
    )
    expect(refused.codes).toEqual(['WRONG_AREA', 'NOT_OPERATOR', 'NOT_QUALIFIED'])
  })

  test('time that has not come yet is refused', async () => {
    const { permitId, now } = await openSinceAnHour()
    const refused = await refusal(log({ permitId, from: ago(now, 5), to: ago(now, -5) }))
    expect(refused.codes).toEqual(['IN_FUTURE'])
  })

  test('a designated area needs no permit, any other does', async () => {
    const now = await clockNow(database)
    await log({ permitId: null, areaId: world.bench, from: ago(now, 20), to: ago(now, 5) })
    const refused = await refusal(
      log({ permitId: null, areaId: world.deck, from: ago(now, 4), to: ago(now, 2) }),
    )
    expect(refused.codes).toEqual(['PERMIT_NEEDED'])
  })

  test('the open time itself cannot be written by the app', async () => {
    const { permitId } = await openSinceAnHour()
    const spans = [
      `INSERT INTO permit_open_spans (id, permit_id, from_at) VALUES (gen_random_uuid(), '${permitId}', now() - interval '9 hours')`,
      `UPDATE permit_open_spans SET from_at = from_at - interval '9 hours'`,
      `UPDATE stints SET from_at = from_at - interval '9 hours'`,
      `UPDATE permits SET valid_until = valid_until + interval '9 hours'`,
    ]
    for (const sql of spans) {
      const refused = await refusal(
        asRuntime(database, world.operator, (client) => client.query(sql)),
      )
      expect(refused.sqlState, sql).toBe('42501')
    }
  })
})

describe('work outside any permit is a fact and never permitted work', () => {
  const outside = (from: Date, to: Date, permitId: string | null = null) =>
    asRuntime(database, world.operator, (client) =>
      client.query(
        `INSERT INTO work_outside_permit (id, site_id, area_id, permit_id, operator_id, from_at, to_at, person_id, role_then, what, why)
         VALUES (gen_random_uuid(), $1, $2, $3, $4, $5, $6, $4, 'test', 'burned a bolt', 'forgot')`,
        [world.siteId, world.bay, permitId, world.operator, from, to],
      ),
    )

  test('it is kept, tells the PAI, restarts the watch of that area and is not a log', async () => {
    const { permitId } = await openSinceAnHour()
    await step(database, world, permitId, ({ event }) => event('work_ended'))
    await database.setClock(30 * MINUTE_MS)
    const now = await clockNow(database)
    await outside(ago(now, 8), ago(now, 3))
    expect((await permitState(database, permitId)).torch_out_at).toEqual(ago(now, 3))
    const { rows } = await database.owner.query(
      `SELECT (SELECT count(*)::int FROM notices WHERE person_id = $1 AND kind = 'work_outside_permit') AS told,
              (SELECT count(*)::int FROM hot_work_logs WHERE site_id = $2) AS logs`,
      [world.pai, world.siteId],
    )
    expect(rows[0]).toEqual({ told: 1, logs: 0 })
  })

  test('it never moves the torch’s last minute back', async () => {
    const { permitId } = await openSinceAnHour()
    await step(database, world, permitId, ({ event }) => event('work_ended'))
    const before = (await permitState(database, permitId)).torch_out_at ?? new Date(0)
    await outside(ago(before, 30), ago(before, 20), permitId)
    expect((await permitState(database, permitId)).torch_out_at).toEqual(before)
  })

  test('times that make no sense are refused', async () => {
    const now = await clockNow(database)
    expect((await refusal(outside(ago(now, 1), ago(now, 9)))).codes).toEqual(['TIMES_REVERSED'])
    expect((await refusal(outside(ago(now, 1), ago(now, -9)))).codes).toEqual(['IN_FUTURE'])
  })
})

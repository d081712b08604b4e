import { randomUUID } from 'node:crypto'
import { beforeEach, describe, expect, test } from 'vitest'
import { testDatabase } from '../../setup/database'
import { cylinderSteps } from './cylinder-steps'
import { newWorld, refusal, type World } from './world'

const database = testDatabase()
let world: World

beforeEach(async () => {
  world = await newWorld(database)
})

const { asYard, event, newCylinder, receivedCylinder, swap, stateOf } = cylinderSteps(
  database,
  () => world,
)

describe('a cylinder is at one place and on at most one outfit', () => {
  test('a swap takes one off and puts another on', async () => {
    const [first, second] = [await receivedCylinder(), await receivedCylinder()]
    await swap({ on: first })
    await swap({ on: second, off: first })
    expect(await stateOf(first)).toEqual({
      status: 'empty',
      outfit_id: null,
      site_id: world.siteId,
    })
    expect(await stateOf(second)).toEqual({
      status: 'in_use',
      outfit_id: world.outfitId,
      site_id: world.siteId,
    })
  })

  test('one that hangs on an outfit goes nowhere else', async () => {
    const cylinderId = await receivedCylinder()
    await swap({ on: cylinderId })
    expect((await refusal(swap({ on: cylinderId }))).codes).toEqual(['CYLINDER_ON_OUTFIT'])
    for (const kind of ['moved', 'returned', 'loaded', 'sent_for_test']) {
      expect(
        (await refusal(event(cylinderId, kind, { to_site_id: world.otherSiteId }))).codes,
        kind,
      ).toEqual(['CYLINDER_ON_OUTFIT'])
    }
  })

  test('a place on an outfit holds one, and there are only as many as it has', async () => {
    await swap({ on: await receivedCylinder() })
    expect((await refusal(swap({ on: await receivedCylinder() }))).codes).toEqual(['PLACE_TAKEN'])
    expect((await refusal(swap({ on: await receivedCylinder(), place: 2 }))).codes).toEqual([
      'NO_SUCH_PLACE',
    ])
  })

  test('one that is at another site is not put on here', async () => {
    const cylinderId = await receivedCylinder()
    await event(cylinderId, 'moved', { to_site_id: world.otherSiteId })
    expect((await refusal(swap({ on: cylinderId }))).codes).toEqual(['CYLINDER_ELSEWHERE'])
    expect((await refusal(event(cylinderId, 'read', { contents_kg: 2 }))).codes).toEqual([
      'CYLINDER_ELSEWHERE',
    ])
  })

  test('half a swap is not committed, nor one without a leak test', async () => {
    const cylinderId = await receivedCylinder()
    const half = asYard((client) =>
      client.query(
        `INSERT INTO swaps (id, site_id, outfit_id, side, on_cylinder_id, person_id, role_then, shut_and_bled, leak_tested)
         VALUES (gen_random_uuid(), $1, $2, 'oxygen', $3, $4, 'operator', true, true)`,
        [world.siteId, world.outfitId, cylinderId, world.operator],
      ),
    )
    expect((await refusal(half)).codes).toEqual(['SWAP_INCOMPLETE'])
    expect((await refusal(swap({ on: cylinderId, leakTested: false }))).codes).toEqual([
      'LEAK_TEST_MISSING',
    ])
    const alone = event(cylinderId, 'put_on', {
      outfit_id: world.outfitId,
      side: 'oxygen',
      place: 1,
    })
    expect((await refusal(alone)).codes).toEqual(['SWAP_MISSING'])
  })
})

describe('what must not be put on, is not', () => {
  test('an empty one', async () => {
    const cylinderId = await receivedCylinder()
    await event(cylinderId, 'read', { contents_kg: 0.2, contents_u_kg: 0.1 })
    expect((await refusal(swap({ on: cylinderId }))).codes).toEqual(['CYLINDER_EMPTY'])
  })

  test('a quarantined one, until it is released', async () => {
    const cylinderId = await receivedCylinder()
    await event(cylinderId, 'quarantined', { reason: 'valve leaks' })
    expect((await refusal(swap({ on: cylinderId }))).codes).toEqual(['CYLINDER_QUARANTINED'])
    await event(cylinderId, 'released', { reason: 'valve renewed' })
    await swap({ on: cylinderId })
  })

  test('one of another gas than that side', async () => {
    const acetylene = await receivedCylinder('acetylene')
    expect((await refusal(swap({ on: acetylene }))).codes).toEqual(['WRONG_GAS'])
    await swap({ on: acetylene, side: 'fuel' })
    expect((await refusal(swap({ on: await receivedCylinder(), side: 'fuel' }))).codes).toContain(
      'WRONG_GAS',
    )
  })

  test('a wrong one that hangs there anyway is recorded, and the outfit goes out of service', async () => {
    const acetylene = await receivedCylinder('acetylene')
    await event(acetylene, 'found_on', {
      outfit_id: world.outfitId,
      side: 'oxygen',
      place: 1,
      reason: 'wrong gas',
    })
    expect(await stateOf(acetylene)).toMatchObject({ status: 'in_use', outfit_id: world.outfitId })
    const { rows } = await database.owner.query('SELECT state FROM outfits WHERE id = $1', [
      world.outfitId,
    ])
    expect(rows[0]).toEqual({ state: 'out_of_service' })
    expect(
      (await refusal(swap({ on: await receivedCylinder('acetylene'), side: 'fuel' }))).codes,
    ).toEqual(['OUTFIT_OUT_OF_SERVICE'])
    await event(acetylene, 'taken_off', { outfit_id: world.outfitId })
    expect(await stateOf(acetylene)).toMatchObject({ status: 'quarantined' })
  })
})

describe('past its due month', () => {
  test('it is not filled, in the month itself it is', async () => {
    const cylinderId = await newCylinder('oxygen', { due_month: '2026-03-01' })
    expect((await refusal(event(cylinderId, 'filled', { filled_on: '2026-04-01' }))).codes).toEqual(
      ['PAST_DUE'],
    )
    await event(cylinderId, 'filled', { filled_on: '2026-03-31' })
  })

  test('it is received full only if it was filled before, and empty always', async () => {
    const full = await newCylinder('oxygen', { due_month: '2020-03-01' })
    expect((await refusal(event(full, 'received'))).codes).toEqual(['PAST_DUE'])
    expect((await refusal(event(full, 'received', { filled_on: '2020-04-01' }))).codes).toEqual([
      'PAST_DUE',
    ])
    await event(full, 'received', { filled_on: '2020-03-31' })
    const empty = await newCylinder('oxygen', { due_month: '2020-03-01' })
    await event(empty, 'received', { marked_empty: true })
    expect(await stateOf(empty)).toMatchObject({ status: 'empty' })
  })
})

describe('a cylinder’s state is what its events say', () => {
  test.each([
    `status = 'full'`,
    `outfit_id = NULL, side = NULL, place = NULL, status = 'partial'`,
    `site_id = NULL`,
    `contents_kg = 9`,
    `due_month = '2099-01-01'`,
    `last_seq = 0`,
  ])('the app cannot set %s', async (change) => {
    const cylinderId = await receivedCylinder()
    const attempt = asYard((client) =>
      client.query(`UPDATE cylinders SET ${change} WHERE id = '${cylinderId}'`),
    )
    expect((await refusal(attempt)).sqlState).toBe('42501')
  })

  test('a state sent with a new cylinder, and a number sent with an event, are ignored', async () => {
    const cylinderId = randomUUID()
    await asYard((client) =>
      client.query(
        `INSERT INTO cylinders (id, serial, gas_id, size_id, spec, status, site_id, last_seq) VALUES ($1::uuid, $2, 'oxygen', 'oxygen-244', 's', 'full', $3, 7)`,
        [cylinderId, cylinderId, world.siteId],
      ),
    )
    expect(await stateOf(cylinderId)).toEqual({ status: 'new', outfit_id: null, site_id: null })
    await event(cylinderId, 'received', { seq: 40, recorded_at: '2020-01-01' })
    const { rows } = await database.owner.query(
      `SELECT seq, recorded_at > now() - interval '1 hour' AS now FROM cylinder_events WHERE cylinder_id = $1`,
      [cylinderId],
    )
    expect(rows).toEqual([{ seq: 1, now: true }])
  })

  test('an event before the last one, or ahead of the clock, is refused', async () => {
    const cylinderId = await receivedCylinder()
    expect(
      (await refusal(event(cylinderId, 'read', { contents_kg: 1, at: '2020-01-01' }))).codes,
    ).toEqual(['OUT_OF_ORDER'])
    expect(
      (await refusal(event(cylinderId, 'read', { contents_kg: 1, at: '2999-01-01' }))).codes,
    ).toEqual(['IN_FUTURE'])
  })

  test('rebuilding every cylinder from its events changes nothing', async () => {
    const [first, second, third] = [
      await receivedCylinder(),
      await receivedCylinder(),
      await receivedCylinder('acetylene'),
    ]
    await swap({ on: first })
    await swap({ on: second, off: first })
    await event(first, 'returned')
    await event(third, 'found_on', {
      outfit_id: world.outfitId,
      side: 'fuel',
      place: 1,
      reason: 'nobody wrote it down',
    })
    const all = () => database.owner.query(`SELECT to_jsonb(c) AS row FROM cylinders c ORDER BY id`)
    const before = await all()
    await database.owner.query('SELECT kerf_rebuild_cylinders()')
    expect((await all()).rows).toEqual(before.rows)
  })
})

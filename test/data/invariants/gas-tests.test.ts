import { randomUUID } from 'node:crypto'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { testDatabase } from '../../setup/database'
import { openPermit, permitState, step } from './permit-steps'
import { newWorld, refusal, type World } from './world'

const database = testDatabase()
let world: World

beforeEach(async () => {
  world = await newWorld(database)
})
afterEach(() => database.setClock(0))

type Reading = Readonly<{ oxygen?: number; lel?: number; cause?: string | null }>

/** A test of the air as the app's role writes it, with nothing said about a hold. */
const testAir = (permitId: string, { oxygen = 20.9, lel = 0, cause = null }: Reading) =>
  step(database, world, permitId, (_, client) =>
    client.query(
      `INSERT INTO gas_tests (id, site_id, permit_id, oxygen_pct, lel_pct, oxygen_cause, instrument, bump_tested_on, calibrated_until, person_id, role_then)
       VALUES ($1, $2, $3, $4, $5, $6, 'GM-1', '2099-01-01', '2099-01-01', $7, 'test')`,
      [randomUUID(), world.siteId, permitId, oxygen, lel, cause, world.pai],
    ),
  )

async function stateAfter(duties: Record<string, unknown>, reading: Reading): Promise<string> {
  const permitId = await openPermit(database, world, { duties })
  await testAir(permitId, reading)
  const { state } = await permitState(database, permitId)
  await database.owner.query(
    'UPDATE stints SET to_at = kerf_now() WHERE permit_id = $1 AND to_at IS NULL',
    [permitId],
  )
  return state
}

// 29 CFR 1915.11(b), 1915.12, 1915.14: 22.0 % oxygen is enriched, 10 % of the LEL is a hazard.
const SHIPYARD = { oxygenStopAtPct: 22, lelStopAtPct: 10 }

describe('a gas test under an open permit', () => {
  test.each([
    ['22.0 % oxygen in a shipyard', SHIPYARD, { oxygen: 22 }, 'held'],
    ['21.9 % oxygen in a shipyard', SHIPYARD, { oxygen: 21.9 }, 'open'],
    ['22.0 % oxygen elsewhere', {}, { oxygen: 22 }, 'open'],
    ['23.5 % oxygen elsewhere', {}, { oxygen: 23.5 }, 'open'],
    ['23.6 % oxygen elsewhere', {}, { oxygen: 23.6 }, 'held'],
    ['19.5 % oxygen with a cause', {}, { oxygen: 19.5, cause: 'Rust' }, 'open'],
    ['19.4 % oxygen with a cause', {}, { oxygen: 19.4, cause: 'Rust' }, 'held'],
    ['20.8 % oxygen that nobody explained', {}, { oxygen: 20.8 }, 'held'],
    ['20.8 % oxygen with a cause', {}, { oxygen: 20.8, cause: 'Purge gas vented' }, 'open'],
    ['10 % LEL in a shipyard', SHIPYARD, { lel: 10 }, 'held'],
    ['9.9 % LEL in a shipyard', SHIPYARD, { lel: 9.9 }, 'open'],
    ['10 % LEL where only more is too much', {}, { lel: 10 }, 'open'],
    ['10.1 % LEL', {}, { lel: 10.1 }, 'held'],
  ] as const)('%s leaves the permit as it must be', async (_name, duties, reading, state) => {
    expect(await stateAfter(duties, reading)).toBe(state)
  })

  test('that reads badly holds without anybody holding, says why, and the torch is out that minute', async () => {
    const permitId = await openPermit(database, world)
    await testAir(permitId, { oxygen: 18, lel: 12 })
    const { rows } = await database.owner.query(
      `SELECT e.data, e.at = p.torch_out_at AS is_out, e.person_id FROM permit_events e JOIN permits p ON p.id = e.permit_id
       WHERE e.permit_id = $1 AND e.kind = 'held'`,
      [permitId],
    )
    expect(rows).toEqual([
      {
        data: {
          reason: 'gas_test',
          reasons: ['GAS_TEST_OXYGEN', 'GAS_TEST_CAUSE', 'GAS_TEST_LEL'],
        },
        is_out: true,
        person_id: world.pai,
      },
    ])
    const resume = step(database, world, permitId, async ({ event, sign, answer }) => {
      await answer()
      await sign('resume', 'pai', world.pai)
      await event('resumed')
    })
    expect((await refusal(resume)).codes).toEqual([
      'GAS_TEST_OXYGEN',
      'GAS_TEST_CAUSE',
      'GAS_TEST_LEL',
    ])
  })
})

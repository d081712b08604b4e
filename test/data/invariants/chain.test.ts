import { createHash, randomUUID } from 'node:crypto'
import { beforeEach, describe, expect, test } from 'vitest'
import { testDatabase } from '../../setup/database'
import { openPermit, step } from './permit-steps'
import { asRuntime, newWorld, refusal, type World } from './world'

const database = testDatabase()
let world: World

beforeEach(async () => {
  world = await newWorld(database)
})

interface Entry {
  seq: string
  table_name: string
  payload: string
  prev_hash: string
  hash: string
  actor_id: string | null
}
async function chainOf(chain: string): Promise<Entry[]> {
  const { rows } = await database.owner.query<Entry>(
    'SELECT seq, table_name, payload, prev_hash, hash, actor_id FROM audit_entries WHERE chain = $1 ORDER BY seq',
    [chain],
  )
  return rows
}
const sha256 = (text: string) => createHash('sha256').update(text).digest('hex')

describe('each site’s acts form a chain', () => {
  test('every fact has its entry, in order, each holding the hash of the one before', async () => {
    await openPermit(database, world)
    const entries = await chainOf(world.siteId)
    expect(entries.map((entry) => entry.table_name)).toEqual(
      expect.arrayContaining(['permits', 'clearance_answers', 'signatures', 'permit_events']),
    )
    entries.forEach((entry, index) => {
      expect(Number(entry.seq)).toBe(index + 1)
      expect(entry.prev_hash).toBe(entries[index - 1]?.hash ?? '0'.repeat(64))
      expect(entry.hash).toBe(sha256(entry.prev_hash + entry.payload))
    })
  })

  test('parallel acts at one site get consecutive numbers, none lost', async () => {
    const permitId = await openPermit(database, world)
    const before = (await chainOf(world.siteId)).length
    await Promise.all(
      Array.from({ length: 20 }, () =>
        step(database, world, permitId, ({ event }) =>
          event('note', { data: { text: randomUUID() } }),
        ),
      ),
    )
    const entries = await chainOf(world.siteId)
    expect(entries).toHaveLength(before + 20)
    expect(entries.map((entry) => Number(entry.seq))).toEqual(entries.map((_, index) => index + 1))
  })

  test('a move between sites is in both chains', async () => {
    const cylinderId = randomUUID()
    await asRuntime(database, world.operator, async (client) => {
      await client.query(
        `INSERT INTO cylinders (id, serial, gas_id, size_id, spec) VALUES ($1::uuid, $2, 'oxygen', 'oxygen-244', 's')`,
        [cylinderId, cylinderId],
      )
      for (const [kind, to] of [
        ['received', null],
        ['moved', world.otherSiteId],
      ]) {
        await client.query(
          `INSERT INTO cylinder_events (id, cylinder_id, kind, site_id, to_site_id, person_id, role_then) VALUES (gen_random_uuid(), $1, $2, $3, $4, $5, 'yard_hand')`,
          [cylinderId, kind, world.siteId, to, world.operator],
        )
      }
    })
    const moves = async (chain: string) =>
      (await chainOf(chain)).filter(
        (entry) => entry.table_name === 'cylinder_events' && entry.payload.includes('"moved"'),
      ).length
    expect(await moves(world.siteId)).toBe(1)
    expect(await moves(world.otherSiteId)).toBe(1)
  })

  test('no act without a name', async () => {
    const nameless = database.runtime.query(
      `INSERT INTO company_layers (id, params, citation) VALUES (gen_random_uuid(), '{}', 'x')`,
    )
    expect(await refusal(nameless)).toMatchObject({ sqlState: 'KW003', codes: ['ACTOR_UNSET'] })
  })

  test('a change keeps what was before, and never a password or PIN', async () => {
    await asRuntime(database, world.pai, (client) =>
      client.query(
        `UPDATE people SET name = 'Renamed', password_hash = 'fresh-secret', pin_hash = 'fresh-pin' WHERE id = $1`,
        [world.watch],
      ),
    )
    const entries = (await chainOf('company')).filter((entry) =>
      entry.payload.includes(world.watch),
    )
    const body = JSON.parse(entries.at(-1)?.payload ?? '{}')
    expect(body.before.name).toBe('Watch One')
    expect(body.row.name).toBe('Renamed')
    expect(body.changed).toEqual(['name', 'password_hash', 'pin_hash', 'session_epoch'])
    expect(entries.map((entry) => entry.payload).join()).not.toMatch(/fresh-/)
  })

  test('the app cannot write an entry, forged or not', async () => {
    const forged = asRuntime(database, world.pai, (client) =>
      client.query(
        `INSERT INTO audit_entries (chain, seq, at, actor_role, act, table_name, subject_id, payload, prev_hash, hash)
         VALUES ($1, 1, '2020-01-01', 'pai', 'forged', 'permits', 'x', '{}', $2, $2)`,
        [world.siteId, '0'.repeat(64)],
      ),
    )
    expect((await refusal(forged)).sqlState).toBe('42501')
  })

  test('a number, hash or time that the owner sends is replaced by the true one', async () => {
    await openPermit(database, world)
    const before = await chainOf(world.siteId)
    await database.owner.query(
      `INSERT INTO audit_entries (chain, seq, at, actor_role, act, table_name, subject_id, payload, prev_hash, hash)
       VALUES ($1, 900, '2020-01-01', 'owner', 'note', 'none', 'x', '{}', $2, $2)`,
      [world.siteId, 'f'.repeat(64)],
    )
    const last = (await chainOf(world.siteId)).at(-1)
    expect(Number(last?.seq)).toBe(before.length + 1)
    expect(last?.prev_hash).toBe(before.at(-1)?.hash)
    expect(last?.hash).toBe(sha256((last?.prev_hash ?? '') + (last?.payload ?? '')))
  })
})

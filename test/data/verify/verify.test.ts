import { execFile } from 'node:child_process'
import { randomUUID } from 'node:crypto'
import { promisify } from 'node:util'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { verifyRecords } from '../../../bin/lib/verify.mjs'
import { newTestDatabase, type TestDatabase } from '../../setup/database'
import { openPermit, step } from '../invariants/permit-steps'
import { asRuntime, newWorld, type World } from '../invariants/world'

let database: TestDatabase
let world: World

beforeEach(async () => {
  database = await newTestDatabase()
  world = await newWorld(database)
  const permitId = await openPermit(database, world)
  await step(database, world, permitId, ({ event }) => event('held', { data: { reason: 'break' } }))
  await receiveCylinder()
})
afterEach(() => database.drop())

async function receiveCylinder() {
  await asRuntime(database, world.operator, async (client) => {
    const id = randomUUID()
    await client.query(
      `INSERT INTO cylinders (id, serial, gas_id, size_id, spec) VALUES ($1::uuid, 'C-1', 'oxygen', 'oxygen-244', 's')`,
      [id],
    )
    for (const [kind, kg] of [
      ['received', null],
      ['read', 4.25],
      ['moved', null],
    ] as const) {
      await client.query(
        `INSERT INTO cylinder_events (id, cylinder_id, kind, site_id, to_site_id, contents_kg, contents_u_kg, person_id, role_then)
         VALUES ($1, $2, $3, $4, $5, $6::float, $6::float / 20, $7, 'yard_hand')`,
        [
          randomUUID(),
          id,
          kind,
          world.siteId,
          kind === 'moved' ? world.otherSiteId : null,
          kg,
          world.operator,
        ],
      )
    }
  })
}

/** What only the owner can do: past the triggers that keep the record. */
async function tamper(table: string, sql: string) {
  await database.owner.query(`ALTER TABLE ${table} DISABLE TRIGGER USER`)
  await database.owner.query(sql)
  await database.owner.query(`ALTER TABLE ${table} ENABLE TRIGGER USER`)
}
const verify = (options = {}) => verifyRecords(database.runtimeUrl, options)
const siteChain = async () =>
  (await verify()).chains.find((result) => result.chain === world.siteId)

describe('verify', () => {
  test('finds nothing in a record that nobody touched, as the app’s own role', async () => {
    const result = await verify()
    expect(result).toMatchObject({ ok: true, facts: [], cylinders: { cylinders: 1, findings: [] } })
    expect((await siteChain())?.entries).toBeGreaterThan(8)
  })

  test.each([
    [
      'a payload',
      `payload = replace(payload, '"op": "INSERT"', '"op": "UPDATE"')`,
      'PAYLOAD_ALTERED',
    ],
    ['a hash', `hash = repeat('a', 64)`, 'PAYLOAD_ALTERED'],
    ['the hash before', `prev_hash = repeat('a', 64)`, 'PREVIOUS_HASH'],
    ['who it was', `actor_role = 'somebody'`, 'COLUMN_ALTERED'],
    ['when it was', `at = at + interval '1 second'`, 'COLUMN_ALTERED'],
  ])('finds the first entry of which %s was altered', async (_what, change, why) => {
    await tamper(
      'audit_entries',
      `UPDATE audit_entries SET ${change} WHERE chain = '${world.siteId}' AND seq IN (4, 6)`,
    )
    expect((await siteChain())?.firstBad).toEqual({ seq: 4, why })
  })

  test('finds an entry whose hash was made again to fit, at the next one', async () => {
    await tamper(
      'audit_entries',
      `UPDATE audit_entries SET payload = p.text, hash = encode(sha256(convert_to(prev_hash || p.text, 'UTF8')), 'hex')
       FROM (SELECT chain AS c, seq AS s, replace(payload, '"op": "INSERT"', '"op": "OTHER"') AS text FROM audit_entries) AS p
       WHERE p.c = chain AND p.s = seq AND chain = '${world.siteId}' AND seq = 4`,
    )
    expect((await siteChain())?.firstBad).toEqual({ seq: 5, why: 'PREVIOUS_HASH' })
  })

  test('finds an entry that was taken out', async () => {
    await tamper(
      'audit_entries',
      `DELETE FROM audit_entries WHERE chain = '${world.siteId}' AND seq = 5`,
    )
    expect((await siteChain())?.firstBad).toEqual({ seq: 6, why: 'MISSING_BEFORE' })
  })

  test('finds a cut tail only by what was written down before', async () => {
    const last = await siteChain()
    const expectation = {
      site: world.siteId,
      chainsOnly: true,
      expect: `${last?.lastSeq}:${last?.lastHash}`,
    }
    expect((await verify(expectation)).ok).toBe(true)
    await tamper(
      'audit_entries',
      `DELETE FROM audit_entries WHERE chain = '${world.siteId}' AND seq > ${(last?.lastSeq ?? 0) - 2}`,
    )
    expect((await verify({ site: world.siteId, chainsOnly: true })).ok).toBe(true)
    expect(await verify(expectation)).toMatchObject({
      ok: false,
      expected: { holds: false, why: 'ENTRY_GONE' },
    })
  })

  test('finds a fact that is not what its entry says, one that is gone, and one without an entry', async () => {
    await tamper(
      'signatures',
      `UPDATE signatures SET at = at - interval '1 hour' WHERE act = 'agree'`,
    )
    await tamper('clearance_answers', 'DELETE FROM clearance_answers')
    await tamper(
      'permit_events',
      `INSERT INTO permit_events (id, site_id, permit_id, seq, kind, role_then, person_id) SELECT gen_random_uuid(), site_id, permit_id, 99, 'note', 'x', person_id FROM permit_events LIMIT 1`,
    )
    const { ok, facts } = await verify()
    expect(ok).toBe(false)
    expect([...new Set(facts?.map(({ table, why }) => `${table} ${why}`))]).toEqual([
      'clearance_answers FACT_GONE',
      'permit_events NO_ENTRY',
      'signatures FACT_ALTERED',
    ])
  })

  test('finds a cylinder whose state is not what its events make of it', async () => {
    await tamper('cylinders', `UPDATE cylinders SET contents_kg = 9, site_id = '${world.siteId}'`)
    expect((await verify()).cylinders?.findings).toMatchObject([
      { serial: 'C-1', columns: ['site_id', 'contents_kg'] },
    ])
  })

  test('says so at the command line, with exit 0, 1 and 2', async () => {
    const run = (...options: string[]) =>
      promisify(execFile)(process.execPath, ['bin/verify.mjs', ...options], {
        env: { ...process.env, DATABASE_URL: database.runtimeUrl },
      }).then(
        ({ stdout }) => ({ code: 0, stdout }),
        (error: { code: number; stdout: string }) => ({ code: error.code, stdout: error.stdout }),
      )
    const sound = await run('--json')
    expect(sound.code).toBe(0)
    expect(JSON.parse(sound.stdout)).toMatchObject({ ok: true })
    expect((await run('--site', 'nowhere')).code).toBe(2)
    await tamper('cylinders', `UPDATE cylinders SET last_seq = 9`)
    const altered = await run()
    expect(altered.code).toBe(1)
    expect(altered.stdout).toContain('cylinder C-1: last_seq')
  })
})

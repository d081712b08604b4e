import { randomUUID } from 'node:crypto'
import { beforeEach, describe, expect, test } from 'vitest'
import { once } from '@/lib/data/client-keys'
import { inTransaction } from '@/lib/data/tx'
import { AppError } from '@/lib/errors'
import { testDatabase } from '../../setup/database'
import { asRuntime, newWorld, refusal, type World } from './world'

const database = testDatabase()
let world: World

beforeEach(async () => {
  world = await newWorld(database)
})

/** A submission that adds one refused attempt, which is a row easily counted. */
function submit(
  key: string,
  input: unknown,
  options: { personId?: string; action?: string; fail?: boolean } = {},
) {
  const viewer = { personId: options.personId ?? world.pai, roles: ['pai'] }
  const action = options.action ?? 'test:act'
  return inTransaction(viewer, action, (tx) =>
    once(tx, viewer, { key, action, input }, async () => {
      await tx.refusedAttempt.create({
        data: { id: randomUUID(), action, subjectId: key, reasons: [] },
        select: { id: true },
      })
      if (options.fail) throw new AppError('REFUSED_HERE')
      return { made: randomUUID() }
    }),
  )
}
async function rowsOf(key: string) {
  const { rows } = await database.owner.query(
    'SELECT count(*)::int AS n FROM refused_attempts WHERE subject_id = $1',
    [key],
  )
  return rows[0].n
}

describe('the same submission twice is one record', () => {
  test('the same key and input gives the stored result', async () => {
    const key = randomUUID()
    const first = await submit(key, { a: 1, b: [2, null] })
    expect(await submit(key, { b: [2, null], a: 1 })).toEqual(first)
    expect(await rowsOf(key)).toBe(1)
  })

  test('ten at the same moment are one', async () => {
    const key = randomUUID()
    const results = await Promise.all(Array.from({ length: 10 }, () => submit(key, { a: 1 })))
    expect(new Set(results.map((result) => result.made)).size).toBe(1)
    expect(await rowsOf(key)).toBe(1)
  })

  test('the same key with another input or for another act is refused', async () => {
    const key = randomUUID()
    await submit(key, { a: 1 })
    await expect(submit(key, { a: 2 })).rejects.toMatchObject({ code: 'KEY_REUSED' })
    await expect(submit(key, { a: 1 }, { action: 'test:other' })).rejects.toMatchObject({
      code: 'KEY_REUSED',
    })
    expect(await rowsOf(key)).toBe(1)
  })

  test('another person’s key is another key', async () => {
    const key = randomUUID()
    const [mine, theirs] = [
      await submit(key, { a: 1 }),
      await submit(key, { a: 1 }, { personId: world.watch }),
    ]
    expect(mine.made).not.toBe(theirs.made)
  })

  test('a refusal does not burn the key', async () => {
    const key = randomUUID()
    await expect(submit(key, { a: 1 }, { fail: true })).rejects.toMatchObject({
      code: 'REFUSED_HERE',
    })
    expect(await rowsOf(key)).toBe(0)
    await submit(key, { a: 1 })
    expect(await rowsOf(key)).toBe(1)
  })

  test('a stored result cannot be changed or freed, by the app or the owner', async () => {
    const key = randomUUID()
    await submit(key, { a: 1 })
    const asApp = (sql: string) =>
      refusal(asRuntime(database, world.pai, (client) => client.query(sql)))
    expect(
      (await asApp(`UPDATE client_keys SET result = '{"made": "other"}' WHERE key = '${key}'`))
        .codes,
    ).toEqual(['APPEND_ONLY'])
    expect(
      (await asApp(`UPDATE client_keys SET input_hash = 'x' WHERE key = '${key}'`)).sqlState,
    ).toBe('42501')
    expect((await asApp(`DELETE FROM client_keys WHERE key = '${key}'`)).sqlState).toBe('42501')
    expect((await refusal(database.owner.query('DELETE FROM client_keys'))).codes).toEqual([
      'APPEND_ONLY',
    ])
  })
})

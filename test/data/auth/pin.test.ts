import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { verifyPin } from '@/lib/auth/pin'
import { removeOldTries, TRY_LIMITS } from '@/lib/data/tries'
import { testDatabase } from '../../setup/database'
import { addPerson, addSite, asSystem, PIN } from './people'

const MINUTE_MS = 60_000
const { limit, windowS } = TRY_LIMITS.pin
let siteId = ''

beforeAll(async () => {
  siteId = await addSite()
})
beforeEach(() => testDatabase().setClock(0))

const codeOf = (check: Promise<void>) =>
  check.then(
    () => 'RIGHT',
    (error: { code: string }) => error.code,
  )

describe('the signing PIN', () => {
  test('the right one signs, and forgets the wrong tries before it', async () => {
    const { id } = await addPerson(siteId)
    for (let round = 0; round < 3; round += 1) {
      for (let wrong = 1; wrong < limit; wrong += 1)
        expect(await codeOf(verifyPin(id, '000000'))).toBe('PIN_WRONG')
      expect(await codeOf(verifyPin(id, PIN))).toBe('RIGHT')
    }
  })

  test('each wrong one says how many tries are left', async () => {
    const { id } = await addPerson(siteId)
    await expect(verifyPin(id, '000000')).rejects.toMatchObject({
      params: { triesLeft: limit - 1 },
    })
    await expect(verifyPin(id, '000000')).rejects.toMatchObject({
      params: { triesLeft: limit - 2 },
    })
  })

  test('after five wrong ones the right one waits too, and no longer than the window', async () => {
    const { id } = await addPerson(siteId)
    for (let wrong = 0; wrong < limit; wrong += 1) await codeOf(verifyPin(id, '000000'))
    expect(await codeOf(verifyPin(id, PIN))).toBe('TOO_MANY_TRIES')
    await testDatabase().setClock(windowS * 1000 + MINUTE_MS)
    expect(await codeOf(verifyPin(id, PIN))).toBe('RIGHT')
  })

  test('twenty tries at once are no more than five', async () => {
    const { id } = await addPerson(siteId)
    const codes = await Promise.all(
      Array.from({ length: 20 }, () => codeOf(verifyPin(id, '000000'))),
    )
    expect(codes.filter((code) => code === 'PIN_WRONG')).toHaveLength(limit)
    expect(codes.filter((code) => code === 'TOO_MANY_TRIES')).toHaveLength(20 - limit)
  })

  test('one person’s wrong tries do not keep another from signing', async () => {
    const [one, other] = [await addPerson(siteId), await addPerson(siteId)]
    for (let wrong = 0; wrong <= limit; wrong += 1) await codeOf(verifyPin(one.id, '000000'))
    expect(await codeOf(verifyPin(other.id, PIN))).toBe('RIGHT')
  })

  test('nobody signs without a PIN of their own, or when disabled', async () => {
    const bare = await addPerson(siteId, 'operator', null)
    expect(await codeOf(verifyPin(bare.id, ''))).toBe('PIN_NOT_SET')
    const { id } = await addPerson(siteId)
    await asSystem((client) =>
      client.query('UPDATE people SET disabled_at = kerf_now() WHERE id = $1', [id]),
    )
    expect(await codeOf(verifyPin(id, PIN))).toBe('PIN_NOT_SET')
  })

  test('old counts are cleared away, counts in force are kept', async () => {
    const { id } = await addPerson(siteId)
    await codeOf(verifyPin(id, '000000'))
    await removeOldTries()
    const count = async () => {
      const { rows } = await testDatabase().owner.query(
        'SELECT 1 FROM rate_limits WHERE key = $1',
        [id],
      )
      return rows.length
    }
    expect(await count()).toBe(1)
    await testDatabase().setClock(25 * 60 * MINUTE_MS)
    await removeOldTries()
    expect(await count()).toBe(0)
  })
})

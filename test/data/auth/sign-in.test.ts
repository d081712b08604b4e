import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { checkSignIn } from '@/lib/auth/sign-in'
import { readViewer } from '@/lib/data/auth'
import { TRY_LIMITS } from '@/lib/data/tries'
import { testDatabase } from '../../setup/database'
import { addGrant, addPerson, addSite, asSystem, PASSWORD } from './people'

const MINUTE_MS = 60_000
let siteId = ''
let address = 0
const from = () => {
  address += 1
  return `192.0.2.${address}`
}

beforeAll(async () => {
  siteId = await addSite()
})
beforeEach(() => testDatabase().setClock(0))

describe('signing in', () => {
  test('the right password gives the person and the epoch of their session', async () => {
    const person = await addPerson(siteId)
    const signedIn = await checkSignIn({
      email: ` ${person.email.toUpperCase()} `,
      password: PASSWORD,
      address: from(),
    })
    expect(signedIn?.personId).toBe(person.id)
    expect(await readViewer(person.id, signedIn?.epoch ?? -1)).toMatchObject({
      personId: person.id,
      grants: [{ siteId, role: 'operator' }],
      roles: ['operator'],
      units: 'us',
    })
  })

  test('a wrong password, an unknown e-mail and a disabled person get the same answer', async () => {
    const person = await addPerson(siteId)
    const disabled = await addPerson(siteId)
    await asSystem((client) =>
      client.query('UPDATE people SET disabled_at = kerf_now() WHERE id = $1', [disabled.id]),
    )
    const answers = [
      await checkSignIn({ email: person.email, password: 'wrong', address: from() }),
      await checkSignIn({ email: 'nobody@crew.example', password: PASSWORD, address: from() }),
      await checkSignIn({ email: disabled.email, password: PASSWORD, address: from() }),
    ]
    expect(answers).toEqual([null, null, null])
  })

  test('after the limit even the right password waits, and works again when the wait is over', async () => {
    const person = await addPerson(siteId)
    const { limit, windowS } = TRY_LIMITS.signInByEmail
    for (let tries = 0; tries < limit; tries += 1) {
      expect(
        await checkSignIn({ email: person.email, password: 'wrong', address: from() }),
      ).toBeNull()
    }
    const right = () => checkSignIn({ email: person.email, password: PASSWORD, address: from() })
    await expect(right()).rejects.toMatchObject({
      code: 'TOO_MANY_TRIES',
      params: { waitMin: expect.any(Number) },
    })
    await testDatabase().setClock(windowS * 1000 + MINUTE_MS)
    expect(await right()).toMatchObject({ personId: person.id })
  })

  test('an unknown e-mail is limited just like a known one', async () => {
    const email = 'stranger@crew.example'
    for (let tries = 0; tries < TRY_LIMITS.signInByEmail.limit; tries += 1) {
      await checkSignIn({ email, password: 'x', address: from() })
    }
    await expect(checkSignIn({ email, password: 'x', address: from() })).rejects.toMatchObject({
      code: 'TOO_MANY_TRIES',
    })
  })

  test('one network address cannot try many people', async () => {
    const one = from()
    const { owner } = testDatabase()
    const { action, limit } = TRY_LIMITS.signInByAddress
    await owner.query(
      `INSERT INTO rate_limits (key, action, bucket_start, count) VALUES ($1, $2, date_trunc('minute', kerf_now()), $3)`,
      [one, action, limit],
    )
    const person = await addPerson(siteId)
    await expect(
      checkSignIn({ email: person.email, password: PASSWORD, address: one }),
    ).rejects.toMatchObject({
      code: 'TOO_MANY_TRIES',
    })
  })
})

describe('a session', () => {
  const signIn = async () => {
    const person = await addPerson(siteId)
    const signedIn = await checkSignIn({ email: person.email, password: PASSWORD, address: from() })
    if (!signedIn) throw new Error('not signed in')
    return signedIn
  }

  test('dies when the person is disabled', async () => {
    const { personId, epoch } = await signIn()
    expect(await readViewer(personId, epoch)).not.toBeNull()
    await asSystem((client) =>
      client.query('UPDATE people SET disabled_at = kerf_now() WHERE id = $1', [personId]),
    )
    expect(await readViewer(personId, epoch)).toBeNull()
  })

  test('dies when a grant is added', async () => {
    const { personId, epoch } = await signIn()
    await asSystem((client) => addGrant(client, personId, siteId, 'administrator'))
    expect(await readViewer(personId, epoch)).toBeNull()
  })

  test('dies when a grant is taken away, and a new one does not have it', async () => {
    const { personId, epoch } = await signIn()
    await asSystem((client) =>
      client.query('UPDATE grants SET revoked_at = kerf_now() WHERE person_id = $1', [personId]),
    )
    expect(await readViewer(personId, epoch)).toBeNull()
    const { rows } = await testDatabase().owner.query(
      'SELECT session_epoch FROM people WHERE id = $1',
      [personId],
    )
    expect((await readViewer(personId, rows[0].session_epoch))?.grants).toEqual([])
  })

  test('of somebody who does not exist is none', async () => {
    expect(await readViewer('00000000-0000-7000-8000-000000000000', 0)).toBeNull()
  })
})

import { v7 as uuidv7 } from 'uuid'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { hashSecret } from '@/lib/auth/hash'
import { verifyPin } from '@/lib/auth/pin'
import { changePin, savePrefs } from '@/lib/data/me'
import { changePinSchema, prefsSchema } from '@/lib/schemas/people'
import { newSite, newViewer, refusal, rowsOf } from './gas-world'

const PIN = '493027'
const PASSWORD = 'nine-kerf-parallel'
const NEXT = '518264'
let siteId: string
let hashes: [string, string]
let viewer: Viewer

const typed = (over: Record<string, string> = {}) =>
  changePinSchema.parse({ key: uuidv7(), pin: PIN, newPin: NEXT, newPinAgain: NEXT, ...over })

beforeAll(async () => {
  siteId = await newSite()
  hashes = [await hashSecret(PIN), await hashSecret(PASSWORD)]
})
beforeEach(async () => {
  viewer = await newViewer(siteId, 'operator')
  await rowsOf('UPDATE people SET pin_hash = $1, password_hash = $2 WHERE id = $3', [
    ...hashes,
    viewer.personId,
  ])
})

describe('a new signing PIN', () => {
  test('signs from then on, and the old one does not', async () => {
    await changePin(viewer, typed())
    await expect(verifyPin(viewer.personId, NEXT)).resolves.toBeUndefined()
    await expect(verifyPin(viewer.personId, PIN)).rejects.toEqual(refusal('PIN_WRONG'))
  })

  test('is refused with a wrong old one, and nothing changes', async () => {
    await expect(changePin(viewer, typed({ pin: '111222' }))).rejects.toEqual(refusal('PIN_WRONG'))
    await expect(verifyPin(viewer.personId, PIN)).resolves.toBeUndefined()
  })

  test('may be confirmed by the password of who has none', async () => {
    await rowsOf('UPDATE people SET pin_hash = NULL WHERE id = $1', [viewer.personId])
    await expect(changePin(viewer, typed())).rejects.toEqual(refusal('PIN_NOT_SET'))
    await changePin(viewer, typed({ pin: '', password: PASSWORD }))
    await expect(verifyPin(viewer.personId, NEXT)).resolves.toBeUndefined()
  })

  test('sent twice with one key is one change and spends no try', async () => {
    const input = typed()
    expect(await changePin(viewer, input)).toEqual(await changePin(viewer, input))
    expect(
      await rowsOf("SELECT 1 FROM rate_limits WHERE action = 'pin' AND key = $1", [
        viewer.personId,
      ]),
    ).toEqual([])
  })

  test('waits after five wrong passwords, even before a right one', async () => {
    const wrong = () => changePin(viewer, typed({ pin: '', password: 'not it' }))
    for (let n = 4; n >= 0; n -= 1)
      await expect(wrong()).rejects.toMatchObject({
        code: 'PASSWORD_WRONG',
        params: { triesLeft: n },
      })
    await expect(changePin(viewer, typed({ pin: '', password: PASSWORD }))).rejects.toEqual(
      refusal('TOO_MANY_TRIES'),
    )
  })

  test('leaves neither PIN nor hash in the record', async () => {
    await changePin(viewer, typed())
    const entries = await rowsOf<{ payload: string }>(
      'SELECT payload FROM audit_entries WHERE subject_id = $1',
      [viewer.personId],
    )
    expect(entries.length).toBeGreaterThan(0)
    for (const { payload } of entries) {
      expect(payload).not.toContain('argon2')
      expect(payload).not.toContain(NEXT)
    }
  })

  test.each([
    ['five digits', { newPin: '12345', newPinAgain: '12345' }],
    ['a run', { newPin: '123456', newPinAgain: '123456' }],
    ['two digits over and over', { newPin: '787878', newPinAgain: '787878' }],
    ['two that differ', { newPin: '518264', newPinAgain: '518265' }],
    ['neither PIN nor password', { pin: '' }],
  ])('is refused as typed: %s', (_what, over) => {
    const parsed = changePinSchema.safeParse({
      key: uuidv7(),
      pin: PIN,
      newPin: NEXT,
      newPinAgain: NEXT,
      ...over,
    })
    expect(parsed.success).toBe(false)
  })
})

describe('units, clock and theme', () => {
  test('are kept for the person alone', async () => {
    const other = await newViewer(siteId, 'operator')
    const input = prefsSchema.parse({ key: uuidv7(), units: 'si', clock: '12', theme: 'dark' })
    await savePrefs(viewer, input)
    await savePrefs(viewer, input)
    const read = (id: string) =>
      rowsOf('SELECT units, clock, theme, version FROM people WHERE id = $1', [id])
    expect(await read(viewer.personId)).toEqual([
      { units: 'si', clock: '12', theme: 'dark', version: 1 },
    ])
    expect(await read(other.personId)).toMatchObject([{ units: 'us', clock: '24' }])
  })

  test('are one of what there is', () => {
    expect(
      prefsSchema.safeParse({ key: uuidv7(), units: 'stone', clock: '24', theme: 'dark' }).success,
    ).toBe(false)
  })
})

import { encode } from 'next-auth/jwt'
import { expect, test } from 'vitest'
import { sessionOpener } from '@/lib/auth/session-token'

const SECRET = 'a secret of this test'
const token = (maxAge: number, secret = SECRET) =>
  encode({ token: { personId: 'p-1', epoch: 3 }, secret, maxAge })

test('opens what was sealed with the same secret, the second time as the first', async () => {
  const open = sessionOpener(SECRET)
  const sealed = await token(60)
  for (const _ of [1, 2]) expect(await open(sealed)).toMatchObject({ personId: 'p-1', epoch: 3 })
})

test('ends with the token, known or not', async () => {
  const open = sessionOpener(SECRET)
  const sealed = await token(60)
  expect(await open(sealed, Date.now() + 50_000)).not.toBeNull()
  expect(await open(sealed, Date.now() + 61_000)).toBeNull()
  expect(await sessionOpener(SECRET)(await token(-60))).toBeNull()
})

test('opens nothing of another secret, nothing altered and nothing else', async () => {
  const open = sessionOpener(SECRET)
  const sealed = await token(60)
  await open(sealed)
  expect(await open(await token(60, 'another'))).toBeNull()
  expect(await open(`${sealed.slice(0, -4)}AAAA`)).toBeNull()
  expect(await open('')).toBeNull()
})

test('goes on opening when more are signed in than are kept', async () => {
  const open = sessionOpener(SECRET)
  const first = await token(60)
  await open(first)
  const many = await Promise.all(Array.from({ length: 2_100 }, () => token(60)))
  for (const one of many) await open(one)
  expect(await open(first)).toMatchObject({ personId: 'p-1' })
}, 60_000)

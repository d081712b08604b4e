import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { hashSecret } from '@/lib/auth/hash'
import { makeOncePassword, ONCE_DAYS } from '@/lib/auth/once-password'
import { AppError } from '@/lib/errors'
import type { AddPersonInput, ChangePersonInput, OncePasswordInput } from '@/lib/schemas/people'
import { db } from './client'
import { doneBefore, once } from './client-keys'
import { assertMayWritePerson, assertWholePerson, nowIn } from './people-guard'
import { inTransaction, type Tx } from './tx'

/** Null where the same submission was answered before: the password is shown once and kept nowhere. */
export type OncePassword = Readonly<{ id: string; oncePassword: string | null; days: number }>

const untilIn = async (tx: Tx) => new Date((await nowIn(tx)).getTime() + ONCE_DAYS * 86_400_000)

/** A new person with a first role, and the password of their first sign-in. */
export async function addPerson(viewer: Viewer, input: AddPersonInput): Promise<OncePassword> {
  assertCan(viewer, 'people:write', input.siteId)
  const claim = { key: input.key, action: 'people:add', input }
  const done = await doneBefore<{ id: string }>(db, viewer, claim)
  if (done) return { ...done, oncePassword: null, days: ONCE_DAYS }
  const oncePassword = makeOncePassword()
  const passwordHash = await hashSecret(oncePassword)
  const { id } = await inTransaction(viewer, 'people:add', (tx) =>
    once(tx, viewer, claim, async () => {
      const { name, email, phone, firm, siteId, role } = input
      const personId = uuidv7()
      await tx.person.create({
        select: { id: true },
        data: {
          id: personId,
          name,
          email,
          phone,
          firm,
          passwordHash,
          passwordOnceUntil: await untilIn(tx),
        },
      })
      await tx.grant.create({
        select: { id: true },
        data: { id: uuidv7(), personId, siteId, role, grantedBy: viewer.personId },
      })
      return { id: personId }
    }),
  )
  return { id, oncePassword, days: ONCE_DAYS }
}

/** Name, e-mail and telephone. The e-mail is the sign-in's name: only who may give a password changes it. */
export async function changePerson(
  viewer: Viewer,
  input: ChangePersonInput,
): Promise<{ id: string }> {
  await assertMayWritePerson(viewer, input.personId)
  const person = await db.person.findUnique({
    where: { id: input.personId },
    select: { email: true },
  })
  if (person?.email !== input.email) await assertWholePerson(viewer, input.personId)
  return inTransaction(viewer, 'people:change', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:change', input }, async () => {
      const { personId, version, name, email, phone, firm } = input
      const { count } = await tx.person.updateMany({
        where: { id: personId, version },
        data: { name, email, phone, firm, version: { increment: 1 } },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: personId }
    }),
  )
}

/** A new password for one sign-in, for who forgot theirs. Every session ends; the PIN goes too. */
export async function giveOncePassword(
  viewer: Viewer,
  input: OncePasswordInput,
): Promise<OncePassword> {
  await assertWholePerson(viewer, input.personId)
  if (input.personId === viewer.personId) throw new AppError('OWN_PASSWORD')
  const claim = { key: input.key, action: 'people:once-password', input }
  const done = await doneBefore<{ id: string }>(db, viewer, claim)
  if (done) return { ...done, oncePassword: null, days: ONCE_DAYS }
  const oncePassword = makeOncePassword()
  const passwordHash = await hashSecret(oncePassword)
  const { id } = await inTransaction(viewer, 'people:once-password', (tx) =>
    once(tx, viewer, claim, async () => {
      await tx.person.update({
        where: { id: input.personId },
        data: { passwordHash, pinHash: null, passwordOnceUntil: await untilIn(tx) },
        select: { id: true },
      })
      return { id: input.personId }
    }),
  )
  return { id, oncePassword, days: ONCE_DAYS }
}

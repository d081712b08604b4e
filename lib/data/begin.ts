import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { hashSecret, verifySecret } from '@/lib/auth/hash'
import { AppError } from '@/lib/errors'
import type { BeginInput } from '@/lib/schemas/people'
import { findPasswordHash } from './auth'
import { db } from './client'
import { doneBefore, once } from './client-keys'
import { inTransaction } from './tx'

/** An own password and PIN in place of the password that somebody else made; the session ends with it. */
export async function begin(viewer: Viewer, input: BeginInput): Promise<{ id: string }> {
  const claim = { key: input.key, action: 'me:begin', input: {} }
  const done = await doneBefore<{ id: string }>(db, viewer, claim)
  if (done) return done
  if (!viewer.mustBegin) throw new AppError('HAS_BEGUN')
  if (await verifySecret(await findPasswordHash(viewer.personId), input.newPassword))
    throw new AppError('PASSWORD_SAME')
  const [passwordHash, pinHash] = await Promise.all([
    hashSecret(input.newPassword),
    hashSecret(input.newPin),
  ])
  return inTransaction(viewer, 'me:begin', (tx) =>
    once(tx, viewer, claim, async () => {
      const { count } = await tx.person.updateMany({
        where: { id: viewer.personId, passwordOnceUntil: { not: null } },
        data: { passwordHash, pinHash, passwordOnceUntil: null },
      })
      if (count === 0) throw new AppError('HAS_BEGUN')
      return { id: viewer.personId }
    }),
  )
}

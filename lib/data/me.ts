import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { hashSecret } from '@/lib/auth/hash'
import { verifyPassword } from '@/lib/auth/password'
import { verifyPin } from '@/lib/auth/pin'
import type { ChangePinInput, PrefsInput } from '@/lib/schemas/people'
import { db } from './client'
import { doneBefore, once } from './client-keys'
import { forgetTries } from './tries'
import { inTransaction } from './tx'

/** Units, clock and theme are the person's own. */
export async function savePrefs(viewer: Viewer, input: PrefsInput): Promise<{ id: string }> {
  return inTransaction(viewer, 'me:prefs', (tx) =>
    once(tx, viewer, { key: input.key, action: 'me:prefs', input }, async () => {
      const { units, clock, theme } = input
      await tx.person.update({
        where: { id: viewer.personId },
        data: { units, clock, theme, version: { increment: 1 } },
        select: { id: true },
      })
      return { id: viewer.personId }
    }),
  )
}

/** The old PIN, or the password of who has none or forgot it; each has its own count of tries. */
async function verifySelf(viewer: Viewer, { pin, password }: ChangePinInput): Promise<void> {
  if (pin !== '') return verifyPin(viewer.personId, pin)
  return verifyPassword(viewer.personId, password)
}

/** A new signing PIN. No PIN is hashed into the submission's key, and a repeated sending spends no try. */
export async function changePin(viewer: Viewer, input: ChangePinInput): Promise<{ id: string }> {
  const claim = { key: input.key, action: 'me:pin', input: {} }
  const done = await doneBefore<{ id: string }>(db, viewer, claim)
  if (done) return done
  await verifySelf(viewer, input)
  const pinHash = await hashSecret(input.newPin)
  const result = await inTransaction(viewer, 'me:pin', (tx) =>
    once(tx, viewer, claim, async () => {
      await tx.person.update({
        where: { id: viewer.personId },
        data: { pinHash },
        select: { id: true },
      })
      return { id: viewer.personId }
    }),
  )
  await forgetTries('pin', viewer.personId)
  return result
}

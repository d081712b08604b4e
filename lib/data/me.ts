import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { hashSecret } from '@/lib/auth/hash'
import { verifyPin } from '@/lib/auth/pin'
import type { ChangePinInput, PrefsInput } from '@/lib/schemas/people'
import { once } from './client-keys'
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

/** A new signing PIN, for who knows the old one. No PIN is hashed into the submission's key. */
export async function changePin(viewer: Viewer, input: ChangePinInput): Promise<{ id: string }> {
  await verifyPin(viewer.personId, input.pin)
  const pinHash = await hashSecret(input.newPin)
  return inTransaction(viewer, 'me:pin', (tx) =>
    once(tx, viewer, { key: input.key, action: 'me:pin', input: {} }, async () => {
      await tx.person.update({
        where: { id: viewer.personId },
        data: { pinHash },
        select: { id: true },
      })
      return { id: viewer.personId }
    }),
  )
}

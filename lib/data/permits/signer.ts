import 'server-only'
import type { Role } from '@/lib/access/access'
import { AppError, type Reason } from '@/lib/errors'
import { db } from '../client'

export type SigningPart = 'operator' | 'fire_watch' | 'entry_supervisor' | 'pai'

/** Which roles at the site let a person sign in a part: the PAI is designated, never assumed. */
const ROLES_FOR: Readonly<Record<SigningPart, readonly Role[]>> = {
  operator: ['operator', 'foreman'],
  fire_watch: ['fire_watch', 'operator', 'foreman', 'pai'],
  entry_supervisor: ['foreman', 'operator', 'fire_watch', 'pai'],
  pai: ['pai'],
}

/** Why this person may not sign in this part at this site; empty when they may. */
export async function signerReasons(
  siteId: string,
  personId: string,
  part: SigningPart,
): Promise<Reason[]> {
  const held = await db.grant.count({
    where: { siteId, personId, revokedAt: null, role: { in: [...ROLES_FOR[part]] } },
  })
  if (held > 0) return []
  const person = await db.person.findUnique({ where: { id: personId }, select: { name: true } })
  if (!person) throw new AppError('NOT_FOUND')
  return [{ code: 'SIGNER_NOT_OF_SITE', params: { name: person.name, part } }]
}

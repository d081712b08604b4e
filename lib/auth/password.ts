import 'server-only'
import { findPasswordHash } from '@/lib/data/auth'
import { countTry, forgetTries } from '@/lib/data/tries'
import { AppError } from '@/lib/errors'
import { verifySecret } from './hash'

/**
 * Checks the password of somebody who is signed in, or refuses: PASSWORD_WRONG with the tries
 * left, TOO_MANY_TRIES with the wait. The try is counted before the password is compared.
 */
export async function verifyPassword(personId: string, password: string): Promise<void> {
  const verdict = await countTry('password', personId)
  if (!verdict.isAllowed)
    throw new AppError('TOO_MANY_TRIES', { waitMin: Math.ceil(verdict.retryAfterS / 60) })
  if (!(await verifySecret(await findPasswordHash(personId), password)))
    throw new AppError('PASSWORD_WRONG', { triesLeft: verdict.triesLeft })
  await forgetTries('password', personId)
}

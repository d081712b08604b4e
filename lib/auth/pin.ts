import 'server-only'
import { findPinHash } from '@/lib/data/auth'
import { countTry, forgetTries } from '@/lib/data/tries'
import { AppError } from '@/lib/errors'
import { verifySecret } from './hash'

/**
 * Checks a signing PIN, or refuses: PIN_WRONG with the tries left, TOO_MANY_TRIES with the wait,
 * PIN_NOT_SET. The try is counted before the PIN is compared.
 */
export async function verifyPin(personId: string, pin: string): Promise<void> {
  const verdict = await countTry('pin', personId)
  if (!verdict.isAllowed) {
    throw new AppError('TOO_MANY_TRIES', { waitMin: Math.ceil(verdict.retryAfterS / 60) })
  }
  const kept = await findPinHash(personId)
  const isRight = await verifySecret(kept, pin)
  if (kept === null) throw new AppError('PIN_NOT_SET')
  if (!isRight) throw new AppError('PIN_WRONG', { triesLeft: verdict.triesLeft })
  await forgetTries('pin', personId)
}

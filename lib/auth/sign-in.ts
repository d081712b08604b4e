import 'server-only'
import { findSignIn } from '@/lib/data/auth'
import { countTry, forgetTries } from '@/lib/data/tries'
import { AppError } from '@/lib/errors'
import { verifySecret } from './hash'

export interface SignedIn {
  personId: string
  epoch: number
}

/**
 * Checks an e-mail address and password. Null whatever was wrong about them; AppError
 * TOO_MANY_TRIES when too many were tried for this address of mail or from this network address.
 */
export async function checkSignIn(input: {
  email: string
  password: string
  address: string
}): Promise<SignedIn | null> {
  const email = input.email.trim().toLowerCase()
  const verdicts = [
    await countTry('signInByAddress', input.address),
    await countTry('signInByEmail', email),
  ]
  const waitS = Math.max(
    0,
    ...verdicts.map((verdict) => (verdict.isAllowed ? 0 : verdict.retryAfterS)),
  )
  if (waitS > 0) throw new AppError('TOO_MANY_TRIES', { waitMin: Math.ceil(waitS / 60) })

  const record = await findSignIn(email)
  const isRight = await verifySecret(record?.passwordHash ?? null, input.password)
  if (!record || !isRight || record.isDisabled || record.isPastFirst) return null
  await forgetTries('signInByEmail', email)
  return { personId: record.personId, epoch: record.epoch }
}

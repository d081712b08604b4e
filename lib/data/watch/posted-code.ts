import 'server-only'
import { AppError } from '@/lib/errors'
import { postedCodeSchema } from '@/lib/schemas/watch'
import { countTry, forgetTries } from '../tries'

/**
 * Lets a request with a posted code through, or refuses it for having tried too many. Counted by
 * address before the code is looked at; a right code clears the count.
 */
export async function withPostedCode<T>(
  { code, address }: Readonly<{ code: string; address: string }>,
  act: (code: string) => Promise<T>,
): Promise<T> {
  const verdict = await countTry('postedCode', address)
  if (!verdict.isAllowed)
    throw new AppError('TOO_MANY_TRIES', { waitMin: Math.ceil(verdict.retryAfterS / 60) })
  const parsed = postedCodeSchema.safeParse(code)
  if (!parsed.success) throw new AppError('NOT_FOUND')
  const done = await act(parsed.data)
  await forgetTries('postedCode', address)
  return done
}

import 'server-only'
import { db } from './client'

export interface TryLimit {
  action: string
  /** Tries within the window before the next has to wait. */
  limit: number
  windowS: number
}

/** Every limit there is. */
export const TRY_LIMITS = {
  signInByEmail: { action: 'sign-in-email', limit: 8, windowS: 15 * 60 },
  signInByAddress: { action: 'sign-in-address', limit: 60, windowS: 15 * 60 },
  pin: { action: 'pin', limit: 5, windowS: 15 * 60 },
  password: { action: 'password', limit: 5, windowS: 15 * 60 },
  postedCode: { action: 'posted-code', limit: 30, windowS: 10 * 60 },
} as const satisfies Record<string, TryLimit>

export type TryKind = keyof typeof TRY_LIMITS

export type TryVerdict =
  | { isAllowed: true; triesLeft: number }
  | { isAllowed: false; retryAfterS: number }

const BUCKET_S = 60

/**
 * Counts one try and says whether it may go on. The count is committed in a transaction of its own
 * before the secret is looked at, so no rollback and no race gives a try back. A try that has to
 * wait is not counted. When the count fails the error goes up: nobody gets in uncounted.
 */
export async function countTry(kind: TryKind, key: string): Promise<TryVerdict> {
  const { action, limit, windowS } = TRY_LIMITS[kind]
  return db.$transaction(
    async (tx) => {
      await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`try ${action} ${key}`}, 0))`
      const [spent] = await tx.$queryRaw<{ count: number; wait_s: number | null }[]>`
        SELECT coalesce(sum(count), 0)::int AS count,
               ceil(extract(epoch FROM min(bucket_start) + make_interval(secs => ${windowS}) - kerf_now()))::int AS wait_s
        FROM rate_limits
        WHERE key = ${key} AND action = ${action}
          AND bucket_start > kerf_now() - make_interval(secs => ${windowS})`
      const count = spent?.count ?? 0
      if (count >= limit)
        return { isAllowed: false, retryAfterS: Math.max(1, spent?.wait_s ?? windowS) }
      await tx.$executeRaw`
        INSERT INTO rate_limits (key, action, bucket_start, count)
        VALUES (${key}, ${action}, date_bin(make_interval(secs => ${BUCKET_S}), kerf_now(), 'epoch'::timestamptz), 1)
        ON CONFLICT (key, action, bucket_start) DO UPDATE SET count = rate_limits.count + 1`
      return { isAllowed: true, triesLeft: limit - count - 1 }
    },
    { maxWait: 4_000, timeout: 8_000 },
  )
}

/** Forgets the tries after a right answer. */
export async function forgetTries(kind: TryKind, key: string): Promise<void> {
  const { action } = TRY_LIMITS[kind]
  await db.$executeRaw`DELETE FROM rate_limits WHERE key = ${key} AND action = ${action}`
}

/** Removes counts that no limit looks at any more. */
export async function removeOldTries(): Promise<number> {
  return db.$executeRaw`DELETE FROM rate_limits WHERE bucket_start < kerf_now() - interval '1 day'`
}

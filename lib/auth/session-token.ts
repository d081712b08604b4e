import { decode, type JWT } from 'next-auth/jwt'

/** More than are signed in at once; the oldest is opened anew. */
const MOST_KEPT = 2_000

/**
 * Opens session cookies of one secret. Each costs a key derived anew, more than the rest of a small
 * request, and what a token holds never changes: so it is kept until it runs out. Whether the session
 * still counts is for the database to say, every time.
 */
export function sessionOpener(secret: string) {
  const kept = new Map<string, JWT>()
  /** What the token holds; null when it does not open, or has run out. */
  return async (token: string, nowMs = Date.now()): Promise<JWT | null> => {
    const session = kept.get(token) ?? (await decode({ token, secret }).catch(() => null))
    const isOver = typeof session?.exp === 'number' && session.exp * 1_000 <= nowMs
    if (!session || isOver) {
      kept.delete(token)
      return null
    }
    const [oldest] = kept.keys()
    if (kept.size >= MOST_KEPT && oldest !== undefined && !kept.has(token)) kept.delete(oldest)
    kept.set(token, session)
    return session
  }
}

import { env } from '@/lib/env'
import { AppError } from '@/lib/errors'

const hostOf = (url: string | undefined | null) =>
  url && URL.canParse(url) ? new URL(url).host : null

/**
 * For routes that change something: only our own pages may send to them. Server actions check this
 * themselves; a route must. A request that does not say where it comes from is refused.
 */
export function assertSameOrigin(request: Request): void {
  const origin = hostOf(request.headers.get('origin'))
  const ours = [request.headers.get('host'), hostOf(env.NEXTAUTH_URL), hostOf(env.PUBLIC_URL)]
  if (origin === null || !ours.includes(origin))
    throw new AppError('FORBIDDEN', { action: 'cross-site' })
}

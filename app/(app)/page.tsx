import { redirect } from 'next/navigation'
import type { Role } from '@/lib/access/access'
import { requireViewer } from '@/lib/auth/viewer'

/** Whose day is at one site; the others look at all of them. */
const AT_ONE_SITE: readonly Role[] = ['foreman', 'operator', 'fire_watch', 'pai', 'yard_hand']

export default async function StartPage() {
  const viewer = await requireViewer()
  redirect(viewer.grants.some((grant) => AT_ONE_SITE.includes(grant.role)) ? '/today' : '/sites')
}

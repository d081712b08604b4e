import 'server-only'
import { type Action, assertCan, type Role, roleCan, rolesAt } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'

/** The role, held at the site, that lets the viewer do it: kept beside the fact. Refuses where none does. */
export function roleThen(viewer: Viewer, action: Action, siteId: string): Role {
  assertCan(viewer, action, siteId)
  const role = rolesAt(viewer, siteId).find((held) => roleCan(held, action))
  if (!role) throw new AppError('FORBIDDEN', { action })
  return role
}

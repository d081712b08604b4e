import { AppError } from '../errors'

export const ROLES = [
  'foreman',
  'operator',
  'fire_watch',
  'pai',
  'shop_manager',
  'yard_hand',
  'auditor',
  'administrator',
] as const
export type Role = (typeof ROLES)[number]

export interface SiteGrant {
  readonly siteId: string
  readonly role: Role
}

const EVERYONE = ROLES
const HANDS = ['foreman', 'operator', 'fire_watch', 'pai'] as const
const READERS = [...HANDS, 'shop_manager', 'auditor', 'administrator'] as const

/**
 * Who may do what on a site. Signing (`permit:sign`) says only that the person may sign at all:
 * which of the three signatures is theirs, and that nobody signs for their own work, is decided by
 * lib/permit and the database.
 */
const GRANTED = {
  'site:read': EVERYONE,
  'job:read': [...READERS, 'yard_hand'],
  'job:write': ['foreman', 'shop_manager'],
  'estimate:keep': ['foreman', 'shop_manager'],
  'chart:write': ['foreman', 'shop_manager'],
  'permit:read': READERS,
  'permit:prepare': ['foreman', 'operator', 'pai'],
  'permit:clear': ['foreman', 'operator', 'pai'],
  'permit:sign': HANDS,
  'permit:hold': HANDS,
  'permit:resume': ['foreman', 'operator', 'pai'],
  'permit:log': ['foreman', 'operator'],
  'permit:end-work': ['foreman', 'operator', 'pai'],
  'permit:watch': ['fire_watch', 'foreman', 'pai'],
  'permit:paper': HANDS,
  'permit:round': ['fire_watch', 'foreman', 'pai'],
  'permit:close': ['fire_watch', 'pai', 'foreman'],
  'permit:withdraw': ['foreman', 'pai'],
  'work:stop': EVERYONE,
  'work:outside': HANDS,
  'incident:record': [...HANDS, 'yard_hand'],
  'incident:close': ['foreman', 'pai', 'administrator'],
  'cylinder:read': EVERYONE,
  'cylinder:swap': ['foreman', 'operator'],
  'cylinder:read-gauge': ['foreman', 'operator', 'yard_hand', 'shop_manager'],
  'cylinder:receive': ['yard_hand', 'foreman', 'shop_manager'],
  'cylinder:move': ['yard_hand', 'foreman', 'shop_manager'],
  'cylinder:quarantine': ['yard_hand', 'foreman', 'operator', 'pai', 'shop_manager'],
  'outfit:write': ['foreman', 'shop_manager', 'yard_hand'],
  'outfit:inspect': ['foreman', 'operator', 'yard_hand'],
  'extinguisher:check': ['foreman', 'operator', 'fire_watch', 'pai', 'yard_hand', 'shop_manager'],
  'order:read': ['shop_manager', 'foreman', 'yard_hand', 'auditor'],
  'order:confirm': ['shop_manager'],
  'fleet:read': ['shop_manager', 'auditor', 'administrator'],
  'audit:read': ['shop_manager', 'foreman', 'auditor', 'administrator'],
  'finding:decide': ['shop_manager'],
  'record:read': READERS,
  'people:read': ['foreman', 'pai', 'shop_manager', 'auditor', 'administrator'],
  'people:write': ['administrator'],
  'people:assign': ['foreman', 'pai', 'shop_manager', 'administrator'],
  'site:write': ['administrator'],
  'rules:write': ['administrator'],
} as const satisfies Record<string, readonly Role[]>

export type Action = keyof typeof GRANTED
export const ACTIONS = Object.keys(GRANTED) as readonly Action[]

interface Granted {
  readonly grants: readonly SiteGrant[]
}

/** Whether a role may do something, wherever it is held. */
export function roleCan(role: Role, action: Action): boolean {
  const granted: readonly Role[] = GRANTED[action]
  return granted.includes(role)
}

/** Whether the viewer may do something at this site. */
export function can(viewer: Granted, action: Action, siteId: string): boolean {
  return viewer.grants.some((grant) => grant.siteId === siteId && roleCan(grant.role, action))
}

/** The sites where the viewer may do something: the scope of every list. */
export function sitesWhere(viewer: Granted, action: Action): string[] {
  const siteIds = viewer.grants
    .filter((grant) => roleCan(grant.role, action))
    .map((grant) => grant.siteId)
  return [...new Set(siteIds)]
}

/** The roles that the viewer holds at a site. */
export function rolesAt(viewer: Granted, siteId: string): Role[] {
  return [
    ...new Set(viewer.grants.filter((grant) => grant.siteId === siteId).map((grant) => grant.role)),
  ]
}

/**
 * Refuses. A site on which the viewer holds nothing answers as if it were not there, so that ids
 * tell a stranger nothing.
 */
export function assertCan(viewer: Granted, action: Action, siteId: string): void {
  if (can(viewer, action, siteId)) return
  if (rolesAt(viewer, siteId).length === 0) throw new AppError('NOT_FOUND')
  throw new AppError('FORBIDDEN', { action })
}

import 'server-only'
import { type Action, can, rolesAt, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { db } from './client'
import type { Tx } from './tx'

/**
 * Administrators act on people of the sites where they are one. Who has left may be given a role
 * anew, but is no longer theirs to shut out: another site may rely on them.
 */
export async function assertMayWritePerson(
  viewer: Viewer,
  personId: string,
  { isPastEnough = false } = {},
): Promise<void> {
  const mine = sitesWhere(viewer, 'people:write')
  if (mine.length === 0) throw new AppError('FORBIDDEN', { action: 'people:write' })
  const grant = await db.grant.findFirst({
    where: { personId, siteId: { in: mine }, ...(isPastEnough ? {} : { revokedAt: null }) },
    select: { id: true },
  })
  if (!grant) throw new AppError('NOT_FOUND')
}

/**
 * For what is kept about somebody: done by who may at a site where they have a role. Whoever holds
 * something else there is told that it is not theirs; to others there is no such person.
 */
export async function assertOnPerson(
  viewer: Viewer,
  action: Action,
  personId: string,
): Promise<void> {
  const grants = await db.grant.findMany({
    where: { personId, revokedAt: null },
    select: { siteId: true },
  })
  if (grants.some(({ siteId }) => can(viewer, action, siteId))) return
  const isNear = grants.some(({ siteId }) => rolesAt(viewer, siteId).length > 0)
  throw isNear ? new AppError('FORBIDDEN', { action }) : new AppError('NOT_FOUND')
}

/**
 * Whoever may sign in as somebody holds all their roles. So a password is given only by who
 * administers every site where that person has one.
 */
export async function assertWholePerson(viewer: Viewer, personId: string): Promise<void> {
  await assertMayWritePerson(viewer, personId)
  const elsewhere = await db.grant.count({
    where: {
      personId,
      revokedAt: null,
      siteId: { notIn: sitesWhere(viewer, 'people:write') },
    },
  })
  if (elsewhere > 0) throw new AppError('PERSON_OF_OTHER_SITES')
}

export async function nowIn(tx: Tx): Promise<Date> {
  const [row] = await tx.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`
  if (!row) throw new Error('the database told no time')
  return row.now
}

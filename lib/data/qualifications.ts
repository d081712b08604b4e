import 'server-only'
import { sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { db } from './client'

export type Qualified = Readonly<{
  id: string
  kind: string
  issuer: string | null
  validFrom: Date
  validUntil: Date
  evidence: string
  files: readonly Readonly<{ id: string; mime: string; sha256: string; at: Date }>[]
}>

export type PersonPapers = Readonly<{
  id: string
  name: string
  firm: string | null
  qualifications: readonly Qualified[]
  mayWrite: boolean
}>

/** Everything that somebody was ever qualified as, the newest end first, each with its papers. */
export async function getPersonPapers(viewer: Viewer, personId: string): Promise<PersonPapers> {
  const siteIds = sitesWhere(viewer, 'people:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'people:read' })
  const person = await db.person.findFirst({
    where: { id: personId, grants: { some: { siteId: { in: siteIds }, revokedAt: null } } },
    select: {
      id: true,
      name: true,
      firm: true,
      grants: { where: { revokedAt: null }, select: { siteId: true } },
      qualifications: {
        orderBy: [{ validUntil: 'desc' }, { id: 'asc' }],
        select: {
          id: true,
          kind: true,
          issuer: true,
          validFrom: true,
          validUntil: true,
          evidence: true,
          files: {
            orderBy: { at: 'asc' },
            select: { id: true, mime: true, sha256: true, at: true },
          },
        },
      },
    },
  })
  if (!person) throw new AppError('NOT_FOUND')
  const written = sitesWhere(viewer, 'people:write')
  const { grants, ...rest } = person
  return { ...rest, mayWrite: grants.some((grant) => written.includes(grant.siteId)) }
}

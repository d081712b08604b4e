import 'server-only'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { type OwnPart, ownParts } from '@/lib/permit/own-part'
import { db } from '../client'
import { loadPermitContext } from './context'

async function isBriefed(permitId: string, personId: string): Promise<boolean> {
  const [row] = await db.$queryRaw<{ is_briefed: boolean }[]>`
    SELECT EXISTS (SELECT 1 FROM sign_ons s WHERE s.permit_id = ${permitId}::uuid AND s.person_id = ${personId}::uuid
      AND s.brief_hash = kerf_brief_hash(s.permit_id)) AS is_briefed`
  return row?.is_briefed ?? false
}

/** What waits for this person under a permit whose code they scanned; null where it is not theirs to read. */
export async function getOwnParts(
  viewer: Viewer,
  permitId: string,
): Promise<readonly OwnPart[] | null> {
  const { facts, day } = await loadPermitContext(db, permitId)
  if (!can(viewer, 'permit:read', facts.siteId)) return null
  const { personId, grants } = viewer
  const isPai = grants.some((one) => one.siteId === facts.siteId && one.role === 'pai')
  const supervises = await db.qualification.count({
    where: {
      personId,
      kind: 'entry_supervisor',
      validFrom: { lte: new Date(day) },
      validUntil: { gte: new Date(day) },
    },
  })
  return ownParts({
    ...{ facts, personId, isPai },
    isEntrySupervisor: supervises > 0,
    isBriefed: await isBriefed(permitId, personId),
  })
}

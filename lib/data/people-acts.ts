import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type {
  GrantRoleInput,
  QualificationInput,
  RevokeGrantInput,
  SetDisabledInput,
} from '@/lib/schemas/people'
import { db } from './client'
import { once } from './client-keys'
import { assertMayWritePerson, nowIn } from './people-guard'
import { inTransaction } from './tx'

/** Gives a role at a site; every session of that person ends. */
export async function grantRole(viewer: Viewer, input: GrantRoleInput): Promise<{ id: string }> {
  assertCan(viewer, 'people:write', input.siteId)
  await assertMayWritePerson(viewer, input.personId, { isPastEnough: true })
  return inTransaction(viewer, 'people:grant', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:grant', input }, async () => {
      const { personId, siteId, role } = input
      const held = await tx.grant.findFirst({
        where: { personId, siteId, role, revokedAt: null },
        select: { id: true },
      })
      if (held) throw new AppError('ROLE_HELD', { role })
      const id = uuidv7()
      await tx.grant.create({
        select: { id: true },
        data: { id, personId, siteId, role, grantedBy: viewer.personId },
      })
      return { id }
    }),
  )
}

/** Takes a role back; nobody takes their own last administrator's role. */
export async function revokeGrant(
  viewer: Viewer,
  input: RevokeGrantInput,
): Promise<{ id: string }> {
  const grant = await db.grant.findUnique({
    where: { id: input.grantId },
    select: { siteId: true, personId: true, role: true },
  })
  if (!grant) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'people:write', grant.siteId)
  if (grant.personId === viewer.personId && grant.role === 'administrator')
    throw new AppError('OWN_ROLE')
  return inTransaction(viewer, 'people:revoke', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:revoke', input }, async () => {
      const { count } = await tx.grant.updateMany({
        where: { id: input.grantId, revokedAt: null },
        data: { revokedAt: await nowIn(tx) },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: input.grantId }
    }),
  )
}

/** Shuts a person out at once, or lets them in again. */
export async function setDisabled(
  viewer: Viewer,
  input: SetDisabledInput,
): Promise<{ id: string }> {
  await assertMayWritePerson(viewer, input.personId)
  if (input.personId === viewer.personId) throw new AppError('OWN_ROLE')
  return inTransaction(viewer, 'people:disable', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:disable', input }, async () => {
      await tx.person.update({
        where: { id: input.personId },
        data: { disabledAt: input.disabled === 'yes' ? await nowIn(tx) : null },
        select: { id: true },
      })
      return { id: input.personId }
    }),
  )
}

/** A new qualification beside the old ones: of each kind the longest counts. */
export async function addQualification(
  viewer: Viewer,
  input: QualificationInput,
): Promise<{ id: string }> {
  await assertMayWritePerson(viewer, input.personId)
  return inTransaction(viewer, 'people:qualify', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:qualify', input }, async () => {
      const id = uuidv7()
      await tx.qualification.create({
        select: { id: true },
        data: {
          id,
          personId: input.personId,
          kind: input.kind,
          validFrom: new Date(`${input.validFrom}T00:00:00Z`),
          validUntil: new Date(`${input.validUntil}T00:00:00Z`),
          evidence: input.evidence,
          issuer: input.issuer,
          recordedBy: viewer.personId,
        },
      })
      return { id }
    }),
  )
}

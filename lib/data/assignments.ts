import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import {
  type AssignInput,
  type CancelAssignmentInput,
  daysOf,
  type VisitorInput,
  type VisitorLeftInput,
} from '@/lib/schemas/assignment'
import { db } from './client'
import { once } from './client-keys'
import { nowIn } from './people-guard'
import { inTransaction, type Tx } from './tx'

/** People with a role at the site who may still sign in: one, or those of a crew. */
async function peopleOf(tx: Tx, { siteId, who }: AssignInput): Promise<string[]> {
  const people = await tx.person.findMany({
    where: {
      disabledAt: null,
      grants: { some: { siteId, revokedAt: null } },
      ...(who.kind === 'person'
        ? { id: who.id }
        : { crewMembers: { some: { crewId: who.id, toDate: null, crew: { siteId } } } }),
    },
    select: { id: true },
  })
  if (people.length === 0) throw new AppError(who.kind === 'crew' ? 'CREW_EMPTY' : 'NOT_FOUND')
  return people.map((person) => person.id)
}

/** Puts somebody, or a crew, to a site for some days; who is there already stays. */
export async function assignPeople(viewer: Viewer, input: AssignInput): Promise<{ added: number }> {
  assertCan(viewer, 'people:assign', input.siteId)
  if (input.who.kind === 'crew') {
    const crew = await db.crew.count({ where: { id: input.who.id, siteId: input.siteId } })
    if (crew === 0) throw new AppError('NOT_FOUND')
  }
  return inTransaction(viewer, 'people:assign', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:assign', input }, async () => {
      const { siteId } = input
      const people = await peopleOf(tx, input)
      const { count } = await tx.assignment.createMany({
        skipDuplicates: true,
        data: people.flatMap((personId) =>
          daysOf(input).map((day) => ({
            id: uuidv7(),
            siteId,
            personId,
            day: new Date(`${day}T00:00:00Z`),
            assignedBy: viewer.personId,
          })),
        ),
      })
      return { added: count }
    }),
  )
}

export async function cancelAssignment(
  viewer: Viewer,
  input: CancelAssignmentInput,
): Promise<{ id: string }> {
  const { assignmentId: id } = input
  const found = await db.assignment.findUnique({ where: { id }, select: { siteId: true } })
  if (!found) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'people:assign', found.siteId)
  return inTransaction(viewer, 'people:unassign', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:unassign', input }, async () => {
      const { count } = await tx.assignment.updateMany({
        where: { id, cancelledAt: null },
        data: { cancelledAt: await nowIn(tx) },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id }
    }),
  )
}

/** Somebody without a sign-in comes onto the site, told of the alarm and where to meet, with a host. */
export async function receiveVisitor(viewer: Viewer, input: VisitorInput): Promise<{ id: string }> {
  assertCan(viewer, 'people:assign', input.siteId)
  return inTransaction(viewer, 'visitor:came', (tx) =>
    once(tx, viewer, { key: input.key, action: 'visitor:came', input }, async () => {
      const { siteId, name, firm, purpose, hostId } = input
      const host = await tx.grant.count({
        where: { personId: hostId, siteId, revokedAt: null, person: { disabledAt: null } },
      })
      if (host === 0) throw new AppError('NOT_FOUND')
      const id = uuidv7()
      await tx.visitor.create({
        select: { id: true },
        data: { id, siteId, name, firm, purpose, hostId, recordedBy: viewer.personId },
      })
      return { id }
    }),
  )
}

export async function visitorLeft(
  viewer: Viewer,
  input: VisitorLeftInput,
): Promise<{ id: string }> {
  const { visitorId: id } = input
  const found = await db.visitor.findUnique({ where: { id }, select: { siteId: true } })
  if (!found) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'people:assign', found.siteId)
  return inTransaction(viewer, 'visitor:left', (tx) =>
    once(tx, viewer, { key: input.key, action: 'visitor:left', input }, async () => {
      const { count } = await tx.visitor.updateMany({
        where: { id, leftAt: null },
        data: { leftAt: await nowIn(tx) },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id }
    }),
  )
}

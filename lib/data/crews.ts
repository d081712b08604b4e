import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { localDay } from '@/lib/format/local-time'
import type {
  AddCrewInput,
  AddCrewMemberInput,
  ChangeCrewInput,
  EndCrewMemberInput,
} from '@/lib/schemas/crew'
import { db } from './client'
import { once } from './client-keys'
import { assertMayWritePerson, nowIn } from './people-guard'
import { inTransaction, type Tx } from './tx'

type Named = Readonly<{ id: string; name: string }>

export type CrewPage = Readonly<{
  id: string
  name: string
  siteId: string
  members: readonly Readonly<{ id: string; name: string; from: Date }>[]
  /** People with a role at the crew's site who are not in it. */
  others: readonly Named[]
}>

/** A crew as an administrator of its site may change it. */
export async function getCrew(viewer: Viewer, crewId: string): Promise<CrewPage> {
  const crew = await db.crew.findUnique({
    where: { id: crewId },
    select: {
      id: true,
      name: true,
      siteId: true,
      members: {
        where: { toDate: null },
        orderBy: { id: 'asc' },
        select: {
          id: true,
          fromDate: true,
          person: { select: { id: true, name: true } },
        },
      },
    },
  })
  if (!crew) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'people:write', crew.siteId)
  const others = await db.person.findMany({
    where: {
      disabledAt: null,
      grants: { some: { siteId: crew.siteId, revokedAt: null } },
      id: { notIn: crew.members.map((member) => member.person.id) },
    },
    orderBy: { name: 'asc' },
    select: { id: true, name: true },
  })
  const members = crew.members.map(({ id, person, fromDate }) => ({
    id,
    name: person.name,
    from: fromDate,
  }))
  return { ...crew, members, others }
}

async function siteDay(tx: Tx, siteId: string): Promise<Date> {
  const { zone } = await tx.site.findUniqueOrThrow({
    where: { id: siteId },
    select: { zone: true },
  })
  return new Date(`${localDay(await nowIn(tx), zone)}T00:00:00Z`)
}

async function crewSite(viewer: Viewer, crewId: string): Promise<string> {
  const crew = await db.crew.findUnique({ where: { id: crewId }, select: { siteId: true } })
  if (!crew) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'people:write', crew.siteId)
  return crew.siteId
}

export async function addCrew(viewer: Viewer, input: AddCrewInput): Promise<{ id: string }> {
  assertCan(viewer, 'people:write', input.siteId)
  return inTransaction(viewer, 'crew:add', (tx) =>
    once(tx, viewer, { key: input.key, action: 'crew:add', input }, async () => {
      const { siteId, name } = input
      const id = uuidv7()
      await tx.crew.create({ select: { id: true }, data: { id, siteId, name } })
      return { id }
    }),
  )
}

/** Its name, and where it works now: from and to sites of the viewer's own. */
export async function changeCrew(viewer: Viewer, input: ChangeCrewInput): Promise<{ id: string }> {
  await crewSite(viewer, input.crewId)
  assertCan(viewer, 'people:write', input.siteId)
  return inTransaction(viewer, 'crew:change', (tx) =>
    once(tx, viewer, { key: input.key, action: 'crew:change', input }, async () => {
      const { crewId: id, siteId, name } = input
      await tx.crew.update({ where: { id }, data: { siteId, name }, select: { id: true } })
      return { id }
    }),
  )
}

export async function addCrewMember(
  viewer: Viewer,
  input: AddCrewMemberInput,
): Promise<{ id: string }> {
  const siteId = await crewSite(viewer, input.crewId)
  await assertMayWritePerson(viewer, input.personId)
  return inTransaction(viewer, 'crew:join', (tx) =>
    once(tx, viewer, { key: input.key, action: 'crew:join', input }, async () => {
      const { crewId, personId } = input
      const id = uuidv7()
      const fromDate = await siteDay(tx, siteId)
      await tx.crewMember.create({
        select: { id: true },
        data: { id, crewId, personId, fromDate },
      })
      return { id }
    }),
  )
}

/** Today is the last day; what the crew did before keeps its people. */
export async function endCrewMember(
  viewer: Viewer,
  input: EndCrewMemberInput,
): Promise<{ id: string }> {
  const member = await db.crewMember.findUnique({
    where: { id: input.memberId },
    select: { crewId: true },
  })
  if (!member) throw new AppError('NOT_FOUND')
  const siteId = await crewSite(viewer, member.crewId)
  return inTransaction(viewer, 'crew:leave', (tx) =>
    once(tx, viewer, { key: input.key, action: 'crew:leave', input }, async () => {
      const { count } = await tx.crewMember.updateMany({
        where: { id: input.memberId, toDate: null },
        data: { toDate: await siteDay(tx, siteId) },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: input.memberId }
    }),
  )
}

import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Action } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type {
  CylinderActInput,
  CylinderReasonInput,
  ReadCylinderInput,
} from '@/lib/schemas/cylinder'
import type { HoldBackInput } from '@/lib/schemas/cylinder-life'
import { db } from './client'
import { once } from './client-keys'
import { asOneVessel, contentsOrRefuse, readingColumns, SIZE_COLUMNS } from './contents'
import { cylinderScope } from './cylinders'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

const ACT_COLUMNS = {
  siteId: true,
  serial: true,
  gasId: true,
  spec: true,
  vessel: true,
  madeMonth: true,
  testMethod: true,
  isStarred: true,
  tareKg: true,
  holds: true,
  size: { select: SIZE_COLUMNS },
  events: { orderBy: { seq: 'desc' }, take: 1, select: { siteId: true } },
} as const

/** The cylinder, where the viewer may do this to it; what has left a site counts at the one it left. */
export async function actOn(viewer: Viewer, action: Action, cylinderId: string) {
  const found = await db.cylinder.findFirst({
    where: cylinderScope(viewer, cylinderId),
    select: ACT_COLUMNS,
  })
  if (!found) throw new AppError('NOT_FOUND')
  const siteId = found.siteId ?? found.events[0]?.siteId
  if (!siteId) throw new AppError('NOT_FOUND')
  const size = asOneVessel(found.size, found.holds)
  return { ...found, size, siteId, role: roleThen(viewer, action, siteId) }
}

export type Acted = Readonly<{ cylinderId: string; eventId: string }>
type Event = Omit<
  Parameters<Tx['cylinderEvent']['create']>[0]['data'],
  'id' | 'cylinder' | 'cylinderId' | 'siteId' | 'personId' | 'roleThen'
>

/** Adds one event; the trigger derives what the cylinder is from then on, or refuses. */
export async function record(
  viewer: Viewer,
  act: `cylinder:${string}`,
  input: Readonly<{ key: string; cylinderId: string }>,
  cylinder: Readonly<{ siteId: string; role: string }>,
  event: Event,
  /** Refuses in the same transaction, before the event is written. */
  guard: (tx: Tx) => Promise<void> = async () => {},
): Promise<Acted> {
  return inTransaction(viewer, act, (tx) =>
    once(tx, viewer, { key: input.key, action: act, input }, async () => {
      await guard(tx)
      const eventId = uuidv7()
      await tx.cylinderEvent.create({
        data: {
          ...event,
          id: eventId,
          cylinderId: input.cylinderId,
          siteId: cylinder.siteId,
          personId: viewer.personId,
          roleThen: cylinder.role,
        } as Parameters<Tx['cylinderEvent']['create']>[0]['data'],
        select: { id: true },
      })
      return { cylinderId: input.cylinderId, eventId }
    }),
  )
}

/** Keeps a gauge or a weight and what it meant. A reading that tells nothing is refused, not kept. */
export async function readCylinder(viewer: Viewer, input: ReadCylinderInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:read-gauge', input.cylinderId)
  const contents = contentsOrRefuse(input.reading, cylinder.size, cylinder.tareKg)
  return record(viewer, 'cylinder:read-gauge', input, cylinder, {
    kind: 'read',
    ...readingColumns(input.reading, contents),
  })
}

export async function markCylinderEmpty(viewer: Viewer, input: CylinderActInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:read-gauge', input.cylinderId)
  return record(viewer, 'cylinder:mark-empty', input, cylinder, { kind: 'read', markedEmpty: true })
}

export async function quarantineCylinder(
  viewer: Viewer,
  input: CylinderReasonInput & Partial<Pick<HoldBackInput, 'condition'>>,
): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:quarantine', input.cylinderId)
  return record(viewer, 'cylinder:quarantine', input, cylinder, {
    kind: 'quarantined',
    reason: input.reason,
    condition: input.condition ?? null,
  })
}

export async function releaseCylinder(viewer: Viewer, input: CylinderReasonInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:quarantine', input.cylinderId)
  return record(viewer, 'cylinder:release', input, cylinder, {
    kind: 'released',
    reason: input.reason,
  })
}

/** Back to the supplier: it leaves the site and its rent ends. */
export async function returnCylinder(viewer: Viewer, input: CylinderActInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:move', input.cylinderId)
  return record(viewer, 'cylinder:return', input, cylinder, { kind: 'returned' })
}

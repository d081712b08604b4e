import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { AppError } from '@/lib/errors'
import type { PermitEventKind, PermitState } from '@/lib/permit/types'
import type { Prisma } from '../generated/client'
import type { Tx } from '../tx'

/** Who did it: somebody signed in, or whoever stood in front of the posted code. */
export type By = Readonly<{ personId: string | null; roleThen: string; deviceAt?: Date | null }>

/** The permit that something is written down about. */
export type OnPermit = Readonly<{ siteId: string; permitId: string }>

/** Adds an event that need not have a person; the database moves the state. Answers its id. */
export async function addFact(
  tx: Tx,
  { siteId, permitId }: OnPermit,
  by: By,
  event: Readonly<{ kind: PermitEventKind; data?: Prisma.InputJsonObject; subjectId?: string }>,
): Promise<string> {
  const { id } = await tx.permitEvent.create({
    select: { id: true },
    data: {
      id: uuidv7(),
      siteId,
      permitId,
      kind: event.kind,
      personId: by.personId,
      roleThen: by.roleThen,
      subjectId: event.subjectId ?? null,
      data: event.data ?? {},
      deviceAt: by.deviceAt ?? null,
    },
  })
  return id
}

export type LockedPermit = OnPermit & Readonly<{ state: PermitState }>

/** Takes the permit's row, so that what is read next is what the event will meet. */
export async function lockPermit(tx: Tx, permitId: string): Promise<LockedPermit> {
  const [row] = await tx.$queryRaw<LockedPermit[]>`
    SELECT id AS "permitId", site_id AS "siteId", state FROM permits WHERE id = ${permitId}::uuid FOR NO KEY UPDATE`
  if (!row) throw new AppError('NOT_FOUND')
  return row
}

/**
 * Rings the people on this very permit for smoke, beside the PAIs and foremen whom the database tells. Under the same
 * once-only key, so that nobody is told twice of one event.
 */
export async function tellOfSmoke(
  tx: Tx,
  { siteId, permitId }: OnPermit,
  eventId: string,
): Promise<void> {
  await tx.$executeRaw`
    SELECT kerf_tell_those_on(${permitId}::uuid, ${siteId}::uuid, 'smoke', ${`smoke:${eventId}`})`
}

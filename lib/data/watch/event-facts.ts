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

export type LockedPermit = OnPermit &
  Readonly<{
    state: PermitState
    stopPressedAt: Date | null
    stoppedAt: Date | null
    validUntil: Date | null
  }>

/** Takes the permit's row, so that what is read next is what the event will meet. */
export async function lockPermit(tx: Tx, permitId: string): Promise<LockedPermit> {
  const [row] = await tx.$queryRaw<LockedPermit[]>`
    SELECT id AS "permitId", site_id AS "siteId", state, stop_pressed_at AS "stopPressedAt", stopped_at AS "stoppedAt",
           valid_until AS "validUntil"
    FROM permits WHERE id = ${permitId}::uuid FOR NO KEY UPDATE`
  if (!row) throw new AppError('NOT_FOUND')
  return row
}

/**
 * Tells the people on this very permit, beside the PAIs and foremen whom the database tells. Under
 * the same once-only key, so that nobody is told twice of one event.
 */
export async function tellThoseOnIt(
  tx: Tx,
  { siteId, permitId }: OnPermit,
  notice: Readonly<{ kind: 'stop_pressed' | 'smoke'; once: string; data?: Prisma.InputJsonObject }>,
): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO notices (id, site_id, person_id, kind, subject_id, data, dedupe)
    SELECT gen_random_uuid(), ${siteId}::uuid, who.person_id, ${notice.kind}, ${permitId}::uuid,
           ${JSON.stringify(notice.data ?? {})}::jsonb, ${notice.once} || ':' || who.person_id
    FROM (SELECT operator_id AS person_id FROM permits WHERE id = ${permitId}::uuid
          UNION SELECT s.person_id FROM stints s WHERE s.permit_id = ${permitId}::uuid AND s.to_at IS NULL
          UNION SELECT g.person_id FROM grants g JOIN people q ON q.id = g.person_id AND q.disabled_at IS NULL
                WHERE g.site_id = ${siteId}::uuid AND g.role IN ('pai', 'foreman') AND g.revoked_at IS NULL) AS who
    ON CONFLICT (dedupe) DO NOTHING`
}

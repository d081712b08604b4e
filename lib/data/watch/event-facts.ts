import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { PermitEventKind } from '@/lib/permit/types'
import type { Prisma } from '../generated/client'
import type { PermitContext } from '../permits/context'
import type { Tx } from '../tx'

/** Who did it: somebody signed in, or whoever stood in front of the posted code. */
export type By = Readonly<{ personId: string | null; roleThen: string; deviceAt?: Date | null }>

/** Adds an event that need not have a person; the database moves the state. Answers its id. */
export async function addFact(
  tx: Tx,
  context: PermitContext,
  by: By,
  event: Readonly<{ kind: PermitEventKind; data?: Prisma.InputJsonObject; subjectId?: string }>,
): Promise<string> {
  const { id } = await tx.permitEvent.create({
    select: { id: true },
    data: {
      id: uuidv7(),
      siteId: context.facts.siteId,
      permitId: context.bundle.permit.id,
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

/** Takes the permit's row, so that what is read next is what the event will meet. */
export async function lockPermit(tx: Tx, permitId: string): Promise<void> {
  await tx.$executeRaw`SELECT 1 FROM permits WHERE id = ${permitId}::uuid FOR NO KEY UPDATE`
}

/**
 * Tells the people on this very permit, beside the PAIs and foremen whom the database tells. Under
 * the same once-only key, so that nobody is told twice of one event.
 */
export async function tellThoseOnIt(
  tx: Tx,
  context: PermitContext,
  notice: Readonly<{ kind: 'stop_pressed' | 'smoke'; once: string; data?: Prisma.InputJsonObject }>,
): Promise<void> {
  const { permit } = context.bundle
  await tx.$executeRaw`
    INSERT INTO notices (id, site_id, person_id, kind, subject_id, data, dedupe)
    SELECT gen_random_uuid(), ${context.facts.siteId}::uuid, who.person_id, ${notice.kind}, ${permit.id}::uuid,
           ${JSON.stringify(notice.data ?? {})}::jsonb, ${notice.once} || ':' || who.person_id
    FROM (SELECT operator_id AS person_id FROM permits WHERE id = ${permit.id}::uuid
          UNION SELECT s.person_id FROM stints s WHERE s.permit_id = ${permit.id}::uuid AND s.to_at IS NULL
          UNION SELECT g.person_id FROM grants g JOIN people q ON q.id = g.person_id AND q.disabled_at IS NULL
                WHERE g.site_id = ${context.facts.siteId}::uuid AND g.role IN ('pai', 'foreman') AND g.revoked_at IS NULL) AS who
    ON CONFLICT (dedupe) DO NOTHING`
}

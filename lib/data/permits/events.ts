import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Role } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { PermitEventKind, SignatureAct } from '@/lib/permit/types'
import type { Prisma } from '../generated/client'
import type { Tx } from '../tx'
import type { PermitContext } from './context'

type EventExtras = Readonly<{
  data?: Prisma.InputJsonObject
  subjectId?: string
  deviceAt?: Date | null
  /** Who does it, where that is not whose phone it is. */
  personId?: string
}>

/** Adds an event to a permit's life; the database checks it again under the permit's lock and moves the state. */
export async function addEvent(
  tx: Tx,
  { viewer, role, context }: Readonly<{ viewer: Viewer; role: Role; context: PermitContext }>,
  kind: PermitEventKind,
  extras: EventExtras = {},
): Promise<void> {
  await tx.permitEvent.create({
    select: { id: true },
    data: {
      id: uuidv7(),
      siteId: context.facts.siteId,
      permitId: context.bundle.permit.id,
      kind,
      personId: extras.personId ?? viewer.personId,
      roleThen: role,
      subjectId: extras.subjectId ?? null,
      data: extras.data ?? {},
      deviceAt: extras.deviceAt ?? null,
    },
  })
}

/** A signature by the PIN that was just checked. */
export async function addSignature(
  tx: Tx,
  context: PermitContext,
  signature: Readonly<{
    act: SignatureAct
    role: 'operator' | 'fire_watch' | 'entry_supervisor' | 'pai'
    personId: string
    deviceAt: Date | null
    contentHash: string
  }>,
): Promise<void> {
  await tx.signature.create({
    select: { id: true },
    data: {
      id: uuidv7(),
      siteId: context.facts.siteId,
      permitId: context.bundle.permit.id,
      surveyNo: context.bundle.permit.survey_no,
      ...signature,
    },
  })
}

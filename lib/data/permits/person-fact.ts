import 'server-only'
import { AppError } from '@/lib/errors'
import type { PersonFact } from '@/lib/permit/types'
import type { Tx } from '../tx'
import type { PermitContext } from './context'
import { toPerson } from './facts'

const isoDay = (date: Date) => date.toISOString().slice(0, 10)

/** Somebody about to sign, who need not have had anything to do with the permit before. */
export async function readPersonFact(
  tx: Tx,
  context: PermitContext,
  personId: string,
): Promise<PersonFact> {
  const known = context.people.find((person) => person.id === personId)
  if (known) return known
  const person = await tx.person.findUnique({
    where: { id: personId },
    select: {
      id: true,
      name: true,
      disabledAt: true,
      qualifications: { select: { kind: true, validFrom: true, validUntil: true } },
    },
  })
  if (!person) throw new AppError('NOT_FOUND')
  return toPerson({
    id: person.id,
    name: person.name,
    phone: null,
    disabled_at: person.disabledAt?.toISOString() ?? null,
    roles: [],
    qualifications: person.qualifications.map((q) => ({
      kind: q.kind,
      valid_from: isoDay(q.validFrom),
      valid_until: isoDay(q.validUntil),
    })),
  })
}

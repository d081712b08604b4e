import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { correctionOf } from '@/lib/calc/gas-corrections'
import { AppError } from '@/lib/errors'
import {
  type DecideFindingInput,
  hypothesesSchema,
  type LookAgainInput,
} from '@/lib/schemas/finding'
import { db } from '../client'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'
import { askForLook } from './run'

/** What follows in the numbers from the cause that was accepted, and the entries that it rests on. */
function acceptanceOf(hypotheses: unknown, place: number | null) {
  const cause = hypothesesSchema.parse(hypotheses)[place ?? -1]
  if (!cause) throw new AppError('CAUSE_UNKNOWN')
  const correction = correctionOf(cause)
  const moved = [correction.readings, correction.explained, correction.used].flatMap((list) =>
    list.map((one) => one.eventId),
  )
  return { correction, evidence: [...new Set([...cause.readingIds, ...moved])] }
}

/** Keeps what a person made of a finding. Accepting a cause changes numbers, never an entry. */
export async function decideFinding(
  viewer: Viewer,
  input: DecideFindingInput,
): Promise<{ id: string }> {
  const finding = await db.finding.findUnique({
    where: { id: input.findingId },
    select: { siteId: true, hypotheses: true },
  })
  if (!finding) throw new AppError('NOT_FOUND')
  const role = roleThen(viewer, 'finding:decide', finding.siteId)
  const { decision, hypothesis, note, findingId } = input
  const isAccepted = decision === 'accepted'
  const acceptance = isAccepted ? acceptanceOf(finding.hypotheses, hypothesis) : null
  return inTransaction(viewer, 'finding:decide', (tx) =>
    once(tx, viewer, { key: input.key, action: 'finding:decide', input }, async () => {
      const id = uuidv7()
      await tx.findingDecision.create({
        select: { id: true },
        data: {
          id,
          findingId,
          siteId: finding.siteId,
          personId: viewer.personId,
          roleThen: role,
          decision,
          note,
          ...(acceptance
            ? { hypothesis, correction: acceptance.correction, evidence: acceptance.evidence }
            : {}),
        },
      })
      return { id }
    }),
  )
}

/** Asks for the record to be looked through again; it begins within seconds, away from this request. */
export async function lookAgain(
  viewer: Viewer,
  { key, siteId }: LookAgainInput,
): Promise<{ asked: true }> {
  assertCan(viewer, 'finding:decide', siteId)
  return inTransaction(viewer, 'finding:look', (tx) =>
    once(tx, viewer, { key, action: 'finding:look', input: { siteId } }, async () => {
      await askForLook(tx, viewer.personId)
      return { asked: true as const }
    }),
  )
}

import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { instantOfLocal, localDay, nextDay } from '@/lib/format/local-time'
import { mayLog } from '@/lib/permit/work'
import type { LogWorkInput } from '@/lib/schemas/permit'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'
import { assertOnPermit, loadPermitContext, type PermitContext, refuseUnless } from './context'

export type Logged = Readonly<{ permitId: string; logId: string; isLate: boolean }>

/** From and to on the day worked; a "to" before its "from" is the next morning. */
function worked(input: LogWorkInput, timeZone: string): { from: Date; to: Date } {
  const endDay = input.to < input.from ? nextDay(input.day) : input.day
  return {
    from: instantOfLocal({ day: input.day, clock: input.from, timeZone }),
    to: instantOfLocal({ day: endDay, clock: input.to, timeZone }),
  }
}

/**
 * Boxes hold whole minutes. A permit issued at 07:10:24 was open from "07:10" on, and "now" is not
 * yet the minute it shows: both ends are drawn to what they name, never by more than that minute.
 */
function drawnIn(
  { from, to }: { from: Date; to: Date },
  context: PermitContext,
): { from: Date; to: Date } {
  const isWithin = (ms: number) => ms >= 0 && ms < 60_000
  const begun = context.facts.openSpans.find((span) =>
    isWithin(span.from.getTime() - from.getTime()),
  )
  const ends = [...context.facts.openSpans.map((span) => span.to), context.now].filter(
    (end) => end !== null,
  )
  const ended = ends.find(
    (end) => isWithin(to.getTime() + 60_000 - end.getTime() - 1) && end.getTime() < to.getTime(),
  )
  return { from: begun?.from ?? from, to: ended ?? to }
}

/** Hot work that was done under this permit, written down now. A late entry says so itself. */
export async function logWork(viewer: Viewer, input: LogWorkInput): Promise<Logged> {
  const { siteId } = await assertOnPermit(viewer, 'permit:log', input.permitId)
  const role = roleThen(viewer, 'permit:log', siteId)
  return inTransaction(viewer, 'permit:log', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:log', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      const { facts, bundle, zone, now } = context
      const { from, to } = drawnIn(worked(input, zone), context)
      const operator = context.people.find((person) => person.id === input.operatorId)
      refuseUnless(
        mayLog({ facts, from, to, areaId: facts.areaId, operator, day: localDay(from, zone), now }),
      )
      const logId = uuidv7()
      const { late } = await tx.hotWorkLog.create({
        select: { late: true },
        data: {
          id: logId,
          siteId,
          jobId: bundle.permit.job_id,
          areaId: facts.areaId,
          permitId: input.permitId,
          operatorId: input.operatorId,
          outfitId: bundle.permit.outfit_id,
          cutId: input.cutId,
          pieces: input.pieces,
          fromAt: from,
          toAt: to,
          deviceAt: input.deviceAt,
          personId: viewer.personId,
          roleThen: role,
          note: input.note,
        },
      })
      return { permitId: input.permitId, logId, isLate: late }
    }),
  )
}

import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import {
  mayFinalLook,
  mayLeaveWatch,
  mayMonitored,
  mayRestore,
  mayStatement,
  maySurvey,
} from '@/lib/permit/after-work'
import type { PermitEventKind, Verdict } from '@/lib/permit/types'
import type { DutyInput, LeaveWatchInput, RestoreInput, StatementInput } from '@/lib/schemas/watch'
import { once } from '../client-keys'
import type { Prisma } from '../generated/client'
import {
  assertFresh,
  assertOnPermit,
  loadPermitContext,
  type PermitContext,
  refuseUnless,
} from '../permits/context'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'
import { addFact, lockPermit } from './event-facts'

type Done = { permitId: string }
type Sent = Readonly<{ key: string; permitId: string; version: number; deviceAt: Date | null }>

type Step = Readonly<{
  action: 'permit:round' | 'permit:close' | 'permit:watch'
  kind: PermitEventKind
  may: (context: PermitContext) => Verdict
  data?: Prisma.InputJsonObject
  subjectId?: string
}>

/** One duty worked off: looked at under the permit's lock, then kept as an event. */
async function workOff(viewer: Viewer, input: Sent, step: Step): Promise<Done> {
  const { siteId } = await assertOnPermit(viewer, step.action, input.permitId)
  const by = {
    personId: viewer.personId,
    roleThen: roleThen(viewer, step.action, siteId),
    deviceAt: input.deviceAt,
  }
  const { deviceAt: _, ...sent } = input
  return inTransaction(viewer, step.action, (tx) =>
    once(tx, viewer, { key: input.key, action: `watch:${step.kind}`, input: sent }, async () => {
      const locked = await lockPermit(tx, input.permitId)
      const context = await loadPermitContext(tx, input.permitId)
      assertFresh(context, input.version)
      refuseUnless(step.may(context))
      const extras = {
        ...(step.data ? { data: step.data } : {}),
        ...(step.subjectId ? { subjectId: step.subjectId } : {}),
      }
      await addFact(tx, locked, by, { kind: step.kind, ...extras })
      return { permitId: input.permitId }
    }),
  )
}

/** The area was looked over after its monitoring had lasted. */
export function recordMonitoring(viewer: Viewer, input: DutyInput): Promise<Done> {
  return workOff(viewer, input, {
    action: 'permit:round',
    kind: 'monitored',
    may: ({ facts, now }) => mayMonitored(facts, now),
    data: { found: input.found },
  })
}

export function recordFinalLook(viewer: Viewer, input: DutyInput): Promise<Done> {
  return workOff(viewer, input, {
    action: 'permit:round',
    kind: 'final_look',
    may: ({ facts, now }) => mayFinalLook(facts, now),
    data: { found: input.found },
  })
}

/** Where the ruleset wants a person's word that no fire is possible. */
export function recordStatement(viewer: Viewer, input: StatementInput): Promise<Done> {
  return workOff(viewer, input, {
    action: 'permit:close',
    kind: 'statement',
    may: ({ facts, now }) => mayStatement(facts, now),
    data: { statement: input.statement },
  })
}

/** The area was surveyed and nothing there can still burn: what of the watch the texts let go is not owed any more. */
export function recordSurvey(viewer: Viewer, input: DutyInput): Promise<Done> {
  return workOff(viewer, input, {
    action: 'permit:close',
    kind: 'surveyed',
    may: ({ facts }) => maySurvey(facts),
    data: { found: input.found },
  })
}

/** What was disabled for the work (a detector, sprinkler heads) is back in service. */
export function restoreImpairment(viewer: Viewer, input: RestoreInput): Promise<Done> {
  return workOff(viewer, input, {
    action: 'permit:close',
    kind: 'impairment_restored',
    may: ({ facts }) => mayRestore(facts, input.impairmentId),
    data: { impairmentId: input.impairmentId },
  })
}

/** Somebody goes off the watch without relief: it stops counting from this minute. */
export function leaveWatch(viewer: Viewer, input: LeaveWatchInput): Promise<Done> {
  return workOff(viewer, input, {
    action: 'permit:watch',
    kind: 'watch_off',
    may: ({ facts }) => mayLeaveWatch(facts, input.personId),
    subjectId: input.personId,
    data: { reason: input.why },
  })
}

import 'server-only'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError, type Reason } from '@/lib/errors'
import { instantOfLocal, localClock, localDay } from '@/lib/format/local-time'
import { mayIssue } from '@/lib/permit/issue'
import type { PermitFacts } from '@/lib/permit/types'
import type { WatchNeed } from '@/lib/rules/types'
import { db } from '../client'
import { loadBundle } from './bundle'
import { type PermitContext, personName, toContext } from './context'
import { type PermitHead, toHead } from './head'
import { issuingOf, outfitReasons, readBusy } from './issue'
import { listSiteHands } from './people'

export type SignStep = Readonly<{
  act: 'agree' | 'acknowledge' | 'enter'
  personId: string | null
  name: string
  signedAt: Date | null
}>

export type SignView = Readonly<{
  head: PermitHead
  now: Date
  steps: readonly SignStep[]
  /** Who may sign as the entry supervisor today. */
  supervisors: readonly Readonly<{ id: string; name: string }>[]
  pais: readonly Readonly<{ id: string; name: string }>[]
  /** Proposed end: of the planned work, never past the cap or a permit it is linked to. */
  until: Readonly<{ day: string; clock: string }>
  arrivedClock: string
  capHours: number
  paiWithinMin: number
  watchMin: number
  watchNeed: WatchNeed
  /** What stands against issuing, but for the PAI's own part. */
  outfitId: string | null
  waits: readonly Reason[]
  canSign: boolean
}>

const HOUR_MS = 3_600_000

/** End of shift on the day of the planned start, when it is still to come; else the planned end; never past the cap. */
function proposedEnd({ bundle, facts, now, zone, duties }: PermitContext): Date {
  const planned = new Date(bundle.permit.planned_until)
  const shiftEnd = instantOfLocal({
    day: localDay(now, zone),
    clock: bundle.site.shift_ends,
    timeZone: zone,
  })
  const wanted =
    planned > now ? planned : shiftEnd > now ? shiftEnd : new Date(now.getTime() + HOUR_MS)
  const caps = [facts.linked?.host, facts.linked?.entry].flatMap((one) =>
    one ? [one.until.getTime()] : [],
  )
  return new Date(Math.min(wanted.getTime(), now.getTime() + duties.capHours * HOUR_MS, ...caps))
}

function entryStep(context: PermitContext): SignStep {
  const signed = context.facts.signatures.findLast((one) => one.act === 'enter')
  const personId = signed?.personId ?? null
  return {
    ...{ act: 'enter', personId, name: personName(context, personId) },
    signedAt: signed?.signedAt ?? null,
  }
}

function stepsOf(context: PermitContext): SignStep[] {
  const { facts } = context
  const step = (act: 'agree' | 'acknowledge', personId: string | null): SignStep => ({
    act,
    personId,
    name: personName(context, personId),
    signedAt:
      facts.signatures.findLast((one) => one.act === act && one.personId === personId)?.signedAt ??
      null,
  })
  return [
    step('agree', facts.operatorId),
    ...(facts.fireWatchId ? [step('acknowledge', facts.fireWatchId)] : []),
    ...(facts.linked?.entry ? [entryStep(context)] : []),
  ]
}

/** Reasons that are answered by the PAI's own form, or by the two signatures above it, are not waited for. */
function isOutside(reason: Reason): boolean {
  const isOfPai = reason.params?.kind === 'pai' || reason.params?.second === 'pai'
  return (
    !isOfPai &&
    !reason.code.startsWith('signature_') &&
    !reason.code.startsWith('pai_') &&
    reason.code !== 'watch_judgement_open'
  )
}

async function waitsOf(context: PermitContext, until: Date): Promise<readonly Reason[]> {
  if (context.facts.state !== 'cleared') return []
  const typed = {
    personId: '',
    arrivedAt: localClock(context.now, context.zone),
    validUntilDay: localDay(until, context.zone),
    validUntil: localClock(until, context.zone),
    watchJudgement: '' as const,
  }
  const nobody = { id: '', name: '', isActive: true, qualifications: [] }
  const verdict = mayIssue(
    context.facts,
    issuingOf(context, typed, { issuer: nobody, busy: await readBusy(db, context) }),
    context.now,
  )
  const reasons = verdict.ok ? [] : verdict.reasons.filter(isOutside)
  return [...reasons, ...(await outfitReasons(db, context))]
}

/** Of a lone operator only the client's person authorises, else whoever does not watch, unless the site lets them. */
function mayAuthorise({ fireWatchId, lone, isPaiWatchAllowed }: PermitFacts, personId: string) {
  const isWatch = personId === fireWatchId
  return lone ? isWatch : !isWatch || isPaiWatchAllowed === true
}

/** Who has signed, who signs next, and everything else that issuing waits for. */
export async function getSignView(viewer: Viewer, permitId: string): Promise<SignView> {
  const bundle = await loadBundle(db, permitId)
  if (!can(viewer, 'permit:read', bundle.permit.site_id)) throw new AppError('NOT_FOUND')
  const context = toContext(bundle)
  const until = proposedEnd(context)
  const hands = await listSiteHands(context.facts.siteId, context.day)
  return {
    head: toHead(context),
    now: context.now,
    steps: stepsOf(context),
    supervisors: hands
      .filter((hand) => hand.qualifiedAs.includes('entry_supervisor'))
      .map(({ id, name }) => ({ id, name })),
    pais: hands
      .filter(
        (hand) =>
          hand.roles.includes('pai') &&
          hand.qualifiedAs.includes('pai') &&
          hand.id !== context.facts.operatorId &&
          mayAuthorise(context.facts, hand.id),
      )
      .map(({ id, name }) => ({ id, name })),
    until: { day: localDay(until, context.zone), clock: localClock(until, context.zone) },
    arrivedClock: localClock(context.now, context.zone),
    capHours: context.duties.capHours,
    paiWithinMin: context.duties.paiOnSiteWithinMin,
    watchMin: context.duties.watchMin,
    watchNeed: context.evaluation.required,
    outfitId: bundle.permit.outfit_id,
    waits: await waitsOf(context, until),
    canSign: can(viewer, 'permit:sign', context.facts.siteId),
  }
}

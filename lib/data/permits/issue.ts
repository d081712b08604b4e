import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { verifyPin } from '@/lib/auth/pin'
import type { Reason } from '@/lib/errors'
import { instantOfLocal, localDay } from '@/lib/format/local-time'
import { freezeDuties } from '@/lib/permit/duties'
import { mayIssue } from '@/lib/permit/issue'
import { impairmentsFrom } from '@/lib/permit/survey-answers'
import type { FrozenDuties, Issuing, PersonFact } from '@/lib/permit/types'
import type { IssuePermitInput } from '@/lib/schemas/permit'
import { db } from '../client'
import { doneBefore, once } from '../client-keys'
import { snapshotEstimate } from '../estimates-kept'
import type { Prisma } from '../generated/client'
import { inTransaction, type Tx } from '../tx'
import {
  assertFresh,
  assertOnPermit,
  assertSeen,
  loadPermitContext,
  type PermitContext,
  refuseUnless,
} from './context'
import { addEvent, addSignature } from './events'
import { readPersonFact } from './person-fact'
import { signerReasons } from './signer'

const MS_PER_MIN = 60_000

type Busy = Issuing['busy'][number]

/** What these people are doing elsewhere at this moment, each with the area's name. */
export async function readBusy(tx: Tx, context: PermitContext): Promise<Busy[]> {
  const ids = [context.facts.operatorId, context.facts.fireWatchId].filter((id) => id !== null)
  const rows = await tx.$queryRaw<
    { person_id: string; role: 'operator' | 'fire_watch'; area: string }[]
  >`
    SELECT s.person_id, s.role, a.name AS area
    FROM stints s JOIN permits p ON p.id = s.permit_id JOIN areas a ON a.id = p.area_id, areas here
    WHERE s.to_at IS NULL AND s.person_id = ANY(${ids}::uuid[]) AND here.id = ${context.facts.areaId}::uuid
      AND s.slot NOT IN ('cut:' || here.id, 'watch:' || coalesce(here.view_id, here.id))`
  return rows.map((row) => ({ personId: row.person_id, role: row.role, areaLabel: row.area }))
}

/** One outfit burns under one permit at a time. */
export async function outfitReasons(tx: Tx, context: PermitContext): Promise<Reason[]> {
  const { id, outfit_id } = context.bundle.permit
  if (outfit_id === null) return []
  const other = await tx.permit.findFirst({
    where: { outfitId: outfit_id, state: 'open', id: { not: id } },
    select: { number: true, job: { select: { number: true } } },
  })
  if (!other) return []
  const permit = `${other.job.number}-${other.number}`
  return [
    { code: 'OUTFIT_IN_USE', params: { outfit: context.bundle.outfit?.number ?? '', permit } },
  ]
}

/** Today's clock, or yesterday's when that would be in the future: a night shift arrived before midnight. */
function arrivedAt(context: PermitContext, clock: string): Date {
  const today = instantOfLocal({ day: context.day, clock, timeZone: context.zone })
  if (today.getTime() <= context.now.getTime()) return today
  const yesterday = localDay(new Date(context.now.getTime() - 24 * 60 * MS_PER_MIN), context.zone)
  return instantOfLocal({ day: yesterday, clock, timeZone: context.zone })
}

type Typed = Pick<
  IssuePermitInput,
  'personId' | 'arrivedAt' | 'validUntilDay' | 'validUntil' | 'watchJudgement'
>

/** What issuing with this input would be, as lib/permit asks for it. */
export function issuingOf(
  context: PermitContext,
  input: Typed,
  read: { issuer: PersonFact; busy: Issuing['busy'] },
): Issuing {
  const { bundle, evaluation, parameters, day, zone } = context
  const watchJudgement = input.watchJudgement === '' ? null : input.watchJudgement
  const { outfit } = bundle
  return {
    paiId: input.personId,
    evaluation,
    duties: freezeDuties({
      evaluation,
      parameters,
      isEnclosed: context.facts.isEnclosed,
      watchJudgement,
      monitoringMin: 0,
      posts: context.posts.map((post) => post.name),
    }),
    watchJudgement,
    outfit: outfit && {
      id: outfit.id,
      label: outfit.number,
      isInService: outfit.state === 'in_service' && outfit.site_id === context.facts.siteId,
    },
    people: [...context.people.filter((person) => person.id !== input.personId), read.issuer],
    busy: read.busy,
    paiArrivedAt: arrivedAt(context, input.arrivedAt),
    day,
    validUntil: instantOfLocal({
      day: input.validUntilDay,
      clock: input.validUntil,
      timeZone: zone,
    }),
  }
}

async function loadIssuing(tx: Tx, input: IssuePermitInput) {
  const context = await loadPermitContext(tx, input.permitId, input.personId)
  const issuing = issuingOf(context, input, {
    issuer: await readPersonFact(tx, context, input.personId),
    busy: await readBusy(tx, context),
  })
  return { context, issuing }
}

/** Torch out by then, so that the watch ends with the permit; null where there is not that much time. */
function lastCutBy({ validUntil, duties }: Issuing, now: Date): Date | null {
  const by = new Date(validUntil.getTime() - duties.watchMin * MS_PER_MIN)
  return by.getTime() > now.getTime() ? by : null
}

const asJson = (value: unknown) => JSON.parse(JSON.stringify(value)) as Prisma.InputJsonObject

/** Everything that the permit was issued under; it never loosens afterwards. */
function frozenData(context: PermitContext, issuing: Issuing): Prisma.InputJsonObject {
  const duties: FrozenDuties = issuing.duties
  const named = (id: string | null) => ({
    id,
    name: issuing.people.find((person) => person.id === id)?.name ?? '',
  })
  return asJson({
    duties,
    watchRequired: duties.watchRequired,
    watchJudgement: issuing.watchJudgement,
    validUntil: issuing.validUntil.toISOString(),
    lastCutBy: lastCutBy(issuing, context.now)?.toISOString() ?? null,
    paiArrivedAt: issuing.paiArrivedAt?.toISOString() ?? null,
    posts: context.posts,
    impairments: impairmentsFrom(context.area, context.answers).map(({ item, what }) => ({
      id: item,
      label: what || item,
    })),
    rulesets: context.parameters.layers,
    parameters: context.parameters,
    conditions: context.conditions,
    evaluation: context.evaluation,
    people: {
      operator: named(context.facts.operatorId),
      fireWatch: named(context.facts.fireWatchId),
      pai: named(issuing.paiId),
    },
  })
}

/**
 * The PAI signs last and the permit is open: what holds is resolved and frozen in the same act, and
 * the estimate of its cuts is kept. Whatever is missing is said at once, before the PIN is tried.
 */
export async function issuePermit(
  viewer: Viewer,
  input: IssuePermitInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:sign', input.permitId)
  const { pin, ...rest } = input
  const submission = { key: input.key, action: 'permit:issue', input: rest }
  const done = await doneBefore<{ permitId: string }>(db, viewer, submission)
  if (done) return done
  const before = await loadIssuing(db, input)
  const notHis: Reason[] = await signerReasons(siteId, input.personId, 'pai')
  refuseUnless(mayIssue(before.context.facts, before.issuing, before.context.now), [
    ...notHis,
    ...(await outfitReasons(db, before.context)),
  ])
  assertSeen(before.context, input.contentHash)
  await verifyPin(input.personId, pin)
  return inTransaction(viewer, 'permit:issue', (tx) =>
    once(tx, viewer, submission, async () => {
      const { context, issuing } = await loadIssuing(tx, input)
      assertFresh(context, input.version)
      refuseUnless(mayIssue(context.facts, issuing, context.now), [
        ...notHis,
        ...(await outfitReasons(tx, context)),
      ])
      await addSignature(tx, context, {
        act: 'issue',
        role: 'pai',
        personId: input.personId,
        deviceAt: input.deviceAt,
        contentHash: input.contentHash,
      })
      const extras = {
        data: frozenData(context, issuing),
        personId: input.personId,
        deviceAt: input.deviceAt,
      }
      await addEvent(tx, { viewer, role: 'pai', context }, 'issued', extras)
      await keepEstimateOf(tx, context, input.personId)
      return { permitId: input.permitId }
    }),
  )
}

async function keepEstimateOf(tx: Tx, { bundle }: PermitContext, keptBy: string): Promise<void> {
  const { id, cut_list_id } = bundle.permit
  if (cut_list_id === null) return
  await snapshotEstimate(tx, { cutListId: cut_list_id, reason: 'issued', permitId: id, keptBy })
}

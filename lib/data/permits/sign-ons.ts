import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { verifyPin } from '@/lib/auth/pin'
import { AppError } from '@/lib/errors'
import { stateReasons } from '@/lib/permit/issue'
import type { PermitState } from '@/lib/permit/types'
import type { PrecautionId } from '@/lib/rules/types'
import type { PostedSignOnInput, SignOnInput, SignVisitorInput } from '@/lib/schemas/sign-on'
import { db } from '../client'
import { doneBefore, once } from '../client-keys'
import { inTransaction, SYSTEM, type Tx } from '../tx'
import { assertOnPermit, readPermitContext } from './context'
import { type PermitHead, toHead } from './head'
import { findSiteHands, listSiteHands, type SiteHand } from './people'

const BRIEFED_IN = ['cleared', 'open', 'held', 'watch'] as const

export type SignOn = Readonly<{
  name: string
  firm: string | null
  how: 'pin' | 'word' | 'code'
  at: Date
  /** For what the briefing says now; false: it has changed since. */
  isCurrent: boolean
}>

export type BriefingView = Readonly<{
  head: PermitHead
  operator: string
  fireWatch: string | null
  emergencyWords: string
  precautions: readonly PrecautionId[]
  watchMin: number
  signOns: readonly SignOn[]
  /** The company's own who have not signed on to this briefing. */
  hands: readonly SiteHand[]
  canSign: boolean
}>

interface SignOnRow {
  name: string
  person_id: string | null
  firm: string | null
  how: SignOn['how']
  at: Date
  is_current: boolean
}

async function readSignOns(permitId: string): Promise<SignOnRow[]> {
  return db.$queryRaw<SignOnRow[]>`
    SELECT coalesce(q.name, s.visitor_name) AS name, s.person_id, s.firm, s.how, s.at,
           s.brief_hash = kerf_brief_hash(s.permit_id) AS is_current
    FROM sign_ons s LEFT JOIN people q ON q.id = s.person_id
    WHERE s.permit_id = ${permitId}::uuid ORDER BY s.at DESC, s.id DESC LIMIT 400`
}

/** What everyone in the area is told, and who has signed that they were. */
export async function getBriefing(viewer: Viewer, permitId: string): Promise<BriefingView> {
  const context = await readPermitContext(viewer, permitId)
  const { facts, bundle, people, evaluation, duties } = context
  const rows = await readSignOns(permitId)
  const current = new Set(rows.filter((row) => row.is_current).map((row) => row.person_id))
  const nameOf = (id: string | null) => people.find((person) => person.id === id)?.name ?? null
  const hands = await listSiteHands(facts.siteId, context.day)
  return {
    head: toHead(context),
    operator: nameOf(facts.operatorId) ?? '',
    fireWatch: nameOf(facts.fireWatchId),
    emergencyWords: bundle.site.emergency_words,
    precautions: evaluation.precautions.map(({ id }) => id),
    watchMin: duties.watchMin,
    signOns: rows.map(({ name, firm, how, at, is_current }) => ({
      ...{ name, firm, how, at },
      isCurrent: is_current,
    })),
    hands: hands.filter((hand) => !current.has(hand.id)),
    canSign: can(viewer, 'permit:sign', facts.siteId) && isBriefedIn(facts.state),
  }
}

const isBriefedIn = (state: PermitState) => stateReasons(state, BRIEFED_IN).length === 0

type Row = Readonly<{
  siteId: string
  permitId: string
  personId?: string
  visitorName?: string
  firm?: string | null
  how: SignOn['how']
  briefedBy?: string
  deviceAt: Date | null
}>

/** Twice to the same briefing is once. */
async function addSignOn(tx: Tx, row: Row): Promise<void> {
  await tx.signOn.createMany({ data: [{ id: uuidv7(), ...row }], skipDuplicates: true })
}

/** One of the company's own signs on with their own PIN. */
export async function signOn(viewer: Viewer, input: SignOnInput): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:sign', input.permitId)
  const { pin, ...rest } = input
  const submission = { key: input.key, action: 'permit:sign-on', input: rest }
  const done = await doneBefore<{ permitId: string }>(db, viewer, submission)
  if (done) return done
  const { facts, day } = await readPermitContext(viewer, input.permitId)
  const reasons = stateReasons(facts.state, BRIEFED_IN)
  const isHand = (await findSiteHands(db, { siteId, day, ids: [input.personId] })).length > 0
  const notHere = isHand ? [] : [{ code: 'PERSON_NOT_ON_SITE', params: { role: 'other' } }]
  const against = [...reasons, ...notHere]
  if (against.length > 0) throw new AppError('PERMIT_REFUSED', { count: against.length }, against)
  await verifyPin(input.personId, pin)
  const { permitId, personId, deviceAt } = input
  return inTransaction(viewer, 'permit:sign', (tx) =>
    once(tx, viewer, submission, async () => {
      await addSignOn(tx, { siteId, permitId, personId, how: 'pin', deviceAt })
      return { permitId }
    }),
  )
}

/** A visitor or another firm's is written down by whoever briefed them. */
export async function signVisitor(
  viewer: Viewer,
  input: SignVisitorInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:sign', input.permitId)
  const { permitId, name: visitorName, firm, deviceAt } = input
  return inTransaction(viewer, 'permit:sign', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:sign-visitor', input }, async () => {
      const briefedBy = viewer.personId
      await addSignOn(tx, { siteId, permitId, visitorName, firm, how: 'word', briefedBy, deviceAt })
      return { permitId }
    }),
  )
}

/** On their own phone, by the code that hangs at the work. No viewer: whoever stands there may. */
export async function signOnByCode(code: string, input: PostedSignOnInput): Promise<object> {
  const permit = await db.permit.findUnique({
    where: { stopCode: code },
    select: { id: true, siteId: true },
  })
  if (!permit) throw new AppError('NOT_FOUND')
  await inTransaction({ ...SYSTEM, roles: ['system'] }, 'permit:sign', (tx) =>
    addSignOn(tx, {
      siteId: permit.siteId,
      permitId: permit.id,
      visitorName: input.name,
      firm: input.firm,
      how: 'code',
      deviceAt: null,
    }),
  )
  return { data: {} }
}

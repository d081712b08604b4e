import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError, type Reason } from '@/lib/errors'
import { stateReasons } from '@/lib/permit/issue'
import type { NamePeopleInput } from '@/lib/schemas/permit'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction, type Tx } from '../tx'
import {
  assertFresh,
  assertOnPermit,
  loadPermitContext,
  type PermitContext,
  readPermitContext,
} from './context'
import { type PermitHead, toHead } from './head'
import { findSiteHands, listSiteHands, type SiteHand } from './people'

const CHANGEABLE = ['preparing', 'cleared'] as const

export type NamedPeopleView = Readonly<{
  head: PermitHead
  operatorId: string
  fireWatchId: string | null
  hands: readonly SiteHand[]
  /** Signatures that are given already, and would count no more. */
  signed: number
  canChange: boolean
}>

export async function getNamedPeople(viewer: Viewer, permitId: string): Promise<NamedPeopleView> {
  const context = await readPermitContext(viewer, permitId)
  const { facts, bundle, day } = context
  return {
    head: toHead(context),
    operatorId: bundle.permit.operator_id,
    fireWatchId: bundle.permit.fire_watch_id,
    hands: await listSiteHands(facts.siteId, day),
    signed: facts.state === 'cleared' ? facts.signatures.length : 0,
    canChange:
      can(viewer, 'permit:prepare', facts.siteId) &&
      stateReasons(facts.state, CHANGEABLE).length === 0,
  }
}

function personReasons(
  hands: readonly SiteHand[],
  personId: string | null,
  kind: 'torch_operator' | 'fire_watch',
): Reason[] {
  if (personId === null) return []
  const hand = hands.find((one) => one.id === personId)
  if (!hand) return [{ code: 'PERSON_NOT_ON_SITE', params: { role: kind } }]
  return hand.qualifiedAs.includes(kind)
    ? []
    : [{ code: 'PERSON_NOT_QUALIFIED', params: { name: hand.name, role: kind } }]
}

async function reasonsAgainst(tx: Tx, context: PermitContext, input: NamePeopleInput) {
  const { facts, day } = context
  const ids = [input.operatorId, input.fireWatchId]
  const hands = await findSiteHands(tx, { siteId: facts.siteId, day, ids })
  const isSame = input.operatorId === facts.operatorId && input.fireWatchId === facts.fireWatchId
  return [
    ...stateReasons(facts.state, CHANGEABLE),
    ...(isSame ? [{ code: 'PEOPLE_UNCHANGED' }] : []),
    ...(input.operatorId === input.fireWatchId ? [{ code: 'OPERATOR_IS_WATCH' }] : []),
    ...personReasons(hands, input.operatorId, 'torch_operator'),
    ...personReasons(hands, input.fireWatchId, 'fire_watch'),
  ]
}

/** Names another operator or fire watch before the issue. What was signed for the former ones counts no more. */
export async function namePeople(
  viewer: Viewer,
  input: NamePeopleInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:prepare', input.permitId)
  const role = roleThen(viewer, 'permit:prepare', siteId)
  const { permitId, operatorId, fireWatchId, why, deviceAt } = input
  return inTransaction(viewer, 'permit:prepare', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:name-people', input }, async () => {
      const context = await loadPermitContext(tx, permitId)
      assertFresh(context, input.version)
      const reasons = await reasonsAgainst(tx, context, input)
      if (reasons.length > 0)
        throw new AppError('PERMIT_REFUSED', { count: reasons.length }, reasons)
      await tx.permitPeople.create({
        select: { id: true },
        data: {
          ...{ id: uuidv7(), siteId, permitId, operatorId, fireWatchId, why, deviceAt },
          personId: viewer.personId,
          roleThen: role,
        },
      })
      return { permitId }
    }),
  )
}

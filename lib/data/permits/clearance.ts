import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { convert } from '@/lib/calc/units'
import { AppError } from '@/lib/errors'
import { mayClear } from '@/lib/permit/issue'
import {
  choiceOf,
  missingDetails,
  type SurveyAnswer,
  type SurveyItem,
  surveyItems,
} from '@/lib/permit/survey'
import { mayLookAgain } from '@/lib/permit/work'
import type { ClearanceAnswerInput, NewLookInput, PermitStepInput } from '@/lib/schemas/permit'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction, type Tx } from '../tx'
import {
  assertFresh,
  assertOnPermit,
  loadPermitContext,
  type PermitContext,
  refuseUnless,
} from './context'
import { addEvent } from './events'

function findItem(context: PermitContext, id: string): SurveyItem {
  const item = surveyItems(context.area).find((one) => one.id === id)
  if (!item) throw new AppError('ITEM_UNKNOWN', { item: id })
  return item
}

const feet = (value: number, unit: 'ft' | 'm') => convert({ value, from: unit, to: 'ft' })

function toAnswer(input: ClearanceAnswerInput): SurveyAnswer {
  return {
    choice: input.choice,
    ...(input.what === null ? {} : { what: input.what }),
    ...(input.distance === null ? {} : { distanceFt: feet(input.distance, input.distanceUnit) }),
    ...(input.wind === null
      ? {}
      : { windMph: convert({ value: input.wind, from: input.windUnit, to: 'mph' }) }),
    ...(input.cover === undefined ? {} : { cover: input.cover }),
    ...(input.sparksReach === null
      ? {}
      : { sparksReachFt: feet(input.sparksReach, input.sparksReachUnit) }),
  }
}

function refuseUnfinished(item: SurveyItem, answer: SurveyAnswer): void {
  if (!choiceOf(item, answer)) throw new AppError('CHOICE_UNKNOWN', { item: item.id })
  const missing = missingDetails(item, answer)
  if (missing.length === 0) return
  const reasons = missing.map((detail) => ({
    code: 'DETAIL_MISSING',
    params: { item: item.id, detail },
  }))
  throw new AppError('ANSWER_UNFINISHED', { count: reasons.length }, reasons)
}

async function addAnswer(
  tx: Tx,
  context: PermitContext,
  row: {
    item: string
    answer: SurveyAnswer
    personId: string
    roleThen: string
    deviceAt: Date | null
  },
) {
  await tx.clearanceAnswer.create({
    select: { id: true },
    data: {
      id: uuidv7(),
      siteId: context.facts.siteId,
      permitId: context.bundle.permit.id,
      surveyNo: context.bundle.permit.survey_no,
      ...row,
      answer: { ...row.answer },
    },
  })
}

/** Keeps one answer of the walk. Another answer to the same item is a new fact; the latest counts. */
export async function answerClearance(
  viewer: Viewer,
  input: ClearanceAnswerInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:clear', input.permitId)
  const role = roleThen(viewer, 'permit:clear', siteId)
  return inTransaction(viewer, 'permit:clear', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:answer', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      const answer = toAnswer(input)
      const item = findItem(context, input.item)
      refuseUnfinished(item, answer)
      await addAnswer(tx, context, {
        item: item.id,
        answer,
        personId: viewer.personId,
        roleThen: role,
        deviceAt: input.deviceAt,
      })
      return { permitId: input.permitId }
    }),
  )
}

/** How fast the survey was answered, beside how fast it can be walked; kept whatever it is. */
function paceData(context: PermitContext) {
  const { pace } = context
  return pace ? { tookS: pace.tookS, leastS: pace.leastS, isTooFast: pace.isTooFast } : {}
}

/** Calls the area cleared, or says everything that stands against it. */
export async function clearPermit(
  viewer: Viewer,
  input: PermitStepInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:clear', input.permitId)
  const role = roleThen(viewer, 'permit:clear', siteId)
  return inTransaction(viewer, 'permit:clear', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:clear', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      assertFresh(context, input.version)
      refuseUnless(
        mayClear({
          facts: context.facts,
          area: context.area,
          answers: context.answers,
          evaluation: context.evaluation,
        }),
      )
      const { total } = context.progress
      await addEvent(tx, { viewer, role, context }, 'cleared', {
        data: {
          answered: total,
          decision: context.evaluation.decision,
          ...paceData(context),
        },
        deviceAt: input.deviceAt,
      })
      return { permitId: input.permitId }
    }),
  )
}

/** Takes the clearance back before the permit was issued: the walk starts again, with nothing answered. */
export async function reopenClearance(
  viewer: Viewer,
  input: PermitStepInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:clear', input.permitId)
  const role = roleThen(viewer, 'permit:clear', siteId)
  return inTransaction(viewer, 'permit:clear', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:reopen-clearance', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      assertFresh(context, input.version)
      await addEvent(tx, { viewer, role, context }, 'clearance_reopened', {
        deviceAt: input.deviceAt,
      })
      return { permitId: input.permitId }
    }),
  )
}

/** The item under which a look that found nothing changed is kept; it is no item of the walk. */
export const NEW_LOOK = 'new_look'

/** A new look during a hold or the watch that found the area as it was cleared. */
export async function lookAgain(
  viewer: Viewer,
  input: NewLookInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:clear', input.permitId)
  const role = roleThen(viewer, 'permit:clear', siteId)
  return inTransaction(viewer, 'permit:clear', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:look-again', input }, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      assertFresh(context, input.version)
      refuseUnless(mayLookAgain(context.facts))
      const answer = { choice: 'as_cleared', what: input.what }
      await addAnswer(tx, context, {
        item: NEW_LOOK,
        answer,
        personId: viewer.personId,
        roleThen: role,
        deviceAt: input.deviceAt,
      })
      return { permitId: input.permitId }
    }),
  )
}

import 'server-only'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { Reason } from '@/lib/errors'
import { evaluateDrawn } from '@/lib/permit/drawing-conditions'
import { mayClear, ruleReasons } from '@/lib/permit/issue'
import {
  choiceOf,
  type SurveyAnswer,
  type SurveyDetail,
  type SurveyGroup,
  type SurveyItem,
  type SurveyItemId,
  type SurveyMark,
  surveyItems,
} from '@/lib/permit/survey'
import { conditionsFrom } from '@/lib/permit/survey-answers'
import type { SurveyPace } from '@/lib/permit/survey-pace'
import type { Evaluation, PrecautionId, WatchNeed } from '@/lib/rules/types'
import { db } from '../client'
import { listPictures, type PictureSeen } from '../pictures/pictures'
import { type PermitContext, personName, readPermitContext } from './context'
import { readAnswer } from './frozen'
import { type PermitHead, toHead } from './head'

/** What an answer brings with it: what it forbids, what it asks for on top of the rest. */
export type Consequence = Readonly<{
  forbids: readonly Reason[]
  asks: readonly PrecautionId[]
  bringsWatch: boolean
}>

export type ClearanceChoice = Readonly<{
  id: string
  mark: SurveyMark
  needs: readonly SurveyDetail[]
  brings: Consequence
}>

export type ClearanceItem = Readonly<{
  id: SurveyItemId
  group: SurveyGroup
  choices: readonly ClearanceChoice[]
  /** The area's standing fact that is confirmed here, as a value; null: it can change, and is never prefilled. */
  siteFact: string | null
  answer: Readonly<{
    choice: string
    mark: SurveyMark
    what: string | null
    distanceFt: number | null
    cover: string | null
    sparksReachFt: number | null
    windMph: number | null
    at: Date
    by: string
  }> | null
}>

export type ClearanceView = Readonly<{
  head: PermitHead
  now: Date
  items: readonly ClearanceItem[]
  answered: number
  total: number
  left: number
  next: SurveyItemId | null
  /** How many things the drawing of the area shows; null while nobody drew it. */
  drawnMarks: number | null
  gasTestAt: Date | null
  isGasTestNeeded: boolean
  /** What was found here under the last permit that was cleared; shown beside, never filled in. */
  lastTime: LastTime | null
  pace: SurveyPace | null
  pictures: readonly PictureSeen[]
  watchMin: number
  watchNeed: WatchNeed
  precautions: readonly Readonly<{ id: PrecautionId; rules: readonly string[] }>[]
  waits: readonly Reason[]
  canAnswer: boolean
  canClear: boolean
  canReopen: boolean
}>

export type LastTime = Readonly<{
  number: string
  at: Date
  found: readonly Readonly<{ item: SurveyItemId; choice: string; what: string }>[]
}>

interface LastRow {
  number: string
  cleared_at: Date
  found: { item: SurveyItemId; choice: string; what: string }[]
}

/** Of the last cleared permit of the area, what somebody put into words. */
async function readLastTime(areaId: string, permitId: string): Promise<LastTime | null> {
  const [row] = await db.$queryRaw<LastRow[]>`
    WITH last AS (
      SELECT p.id, j.number || '-' || p.number AS number, p.cleared_at FROM permits p JOIN jobs j ON j.id = p.job_id
      WHERE p.area_id = ${areaId}::uuid AND p.id <> ${permitId}::uuid AND p.cleared_at IS NOT NULL
      ORDER BY p.cleared_at DESC LIMIT 1)
    SELECT last.number, last.cleared_at, coalesce((
      SELECT jsonb_agg(jsonb_build_object('item', a.item, 'choice', a.answer ->> 'choice', 'what', a.answer ->> 'what') ORDER BY a.at)
      FROM (SELECT DISTINCT ON (x.item) x.item, x.answer, x.at FROM clearance_answers x
            WHERE x.permit_id = last.id ORDER BY x.item, x.at DESC, x.id DESC) a
      WHERE coalesce(a.answer ->> 'what', '') <> '' AND a.item <> 'new_look'), '[]') AS found
    FROM last`
  return row ? { number: row.number, at: row.cleared_at, found: row.found } : null
}

/** An answer that only names its choice; a distance nobody gave counts as at the work. */
const bare = (choice: string): SurveyAnswer => ({ choice, what: '', distanceFt: 0 })

const keyOf = (reason: Reason) =>
  `${reason.code} ${reason.params?.why ?? ''} ${reason.ruleId ?? ''}`

/** Compares the rules' answer with and without one answer of the survey. */
function consequence(
  context: PermitContext,
  item: SurveyItem,
  answer: SurveyAnswer,
  without: Evaluation,
): Consequence {
  const answers = { ...context.answers, [item.id]: answer }
  const evaluation = evaluateDrawn(
    context.layers,
    conditionsFrom({ ...context.survey, answers }),
    context.drawing,
  )
  const known = new Set(ruleReasons(without).map(keyOf))
  const due = new Set(without.precautions.map((one) => one.id))
  const forbids = ruleReasons(evaluation).filter((reason) => !known.has(keyOf(reason)))
  // Several layers may forbid the same thing; it is said once, with the first rule.
  const once = forbids.filter(
    (reason, i) => forbids.findIndex((other) => other.params.why === reason.params.why) === i,
  )
  return {
    forbids: once,
    asks: evaluation.precautions.map((one) => one.id).filter((id) => !due.has(id)),
    bringsWatch:
      evaluation.required === 'yes' &&
      evaluation.perLayer.some((layer) =>
        layer.watchReasons.some((why) => item.fields.includes(why.field)),
      ),
  }
}

function toItem(context: PermitContext, item: SurveyItem): ClearanceItem {
  const row = context.answered.get(item.id)
  const kept = row ? readAnswer(row.answer) : null
  const choice = kept ? choiceOf(item, kept) : null
  const { [item.id]: _own, ...others } = context.answers
  const without = evaluateDrawn(
    context.layers,
    conditionsFrom({ ...context.survey, answers: others }),
    context.drawing,
  )
  return {
    id: item.id,
    group: item.group,
    siteFact: item.needsStandingFact === null ? null : String(context.area[item.needsStandingFact]),
    choices: item.choices.map(({ id, mark, needs }) => ({
      id,
      mark,
      needs: needs ?? [],
      brings: consequence(context, item, kept?.choice === id ? kept : bare(id), without),
    })),
    answer:
      row && kept && choice
        ? {
            choice: choice.id,
            mark: choice.mark,
            what: kept.what ?? null,
            distanceFt: kept.distanceFt ?? null,
            cover: kept.cover ?? null,
            sparksReachFt: kept.sparksReachFt ?? null,
            windMph: kept.windMph ?? null,
            at: new Date(row.at),
            by: personName(context, row.person_id),
          }
        : null,
  }
}

const ANSWERABLE = new Set(['preparing', 'held', 'watch'])

/** The walk as it stands, with what each possible answer would bring. */
export async function getClearance(viewer: Viewer, permitId: string): Promise<ClearanceView> {
  const context = await readPermitContext(viewer, permitId)
  const { facts, area, answers, evaluation, progress, duties, bundle } = context
  const verdict = mayClear({ facts, area, answers, evaluation })
  const mayWalk = can(viewer, 'permit:clear', facts.siteId)
  return {
    head: toHead(context),
    now: context.now,
    items: surveyItems(area).map((item) => toItem(context, item)),
    answered: progress.answered,
    total: progress.total,
    left: progress.left,
    next: progress.next,
    drawnMarks: context.drawing?.marks.length ?? null,
    gasTestAt: bundle.gas_tests.at(-1) ? new Date(bundle.gas_tests.at(-1)?.at ?? '') : null,
    isGasTestNeeded: duties.gasTestNeeded,
    lastTime: await readLastTime(facts.areaId, permitId),
    pace: context.pace,
    pictures: await listPictures(permitId),
    watchMin: duties.watchMin,
    watchNeed: evaluation.required,
    precautions: evaluation.precautions.map(({ id, rules }) => ({ id, rules })),
    waits: verdict.ok || facts.state !== 'preparing' ? [] : verdict.reasons,
    canAnswer: mayWalk && ANSWERABLE.has(facts.state),
    canClear: mayWalk && facts.state === 'preparing',
    canReopen: mayWalk && facts.state === 'cleared',
  }
}

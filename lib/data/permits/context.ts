import 'server-only'
import { type Action, assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError, type Reason } from '@/lib/errors'
import { localDay } from '@/lib/format/local-time'
import { permitWatch } from '@/lib/permit/after-work'
import type { AreaDrawing } from '@/lib/permit/drawing'
import { evaluateDrawn } from '@/lib/permit/drawing-conditions'
import { freezeDuties } from '@/lib/permit/duties'
import { type SurveyItemId, type SurveyPlace, surveyItems } from '@/lib/permit/survey'
import {
  conditionsFrom,
  type StoredAreaClass,
  type SurveyAnswers,
  type SurveyInput,
  type SurveyProgress,
  surveyProgress,
} from '@/lib/permit/survey-answers'
import { type SurveyPace, surveyPace } from '@/lib/permit/survey-pace'
import type {
  FrozenDuties,
  PermitFacts,
  PersonFact,
  Verdict,
  WatchProgress,
} from '@/lib/permit/types'
import type { Conditions } from '@/lib/rules/conditions'
import { resolveParameters } from '@/lib/rules/resolve'
import type { Evaluation, Layer, ResolvedParameters } from '@/lib/rules/types'
import { areaDrawingSchema } from '@/lib/schemas/drawing'
import { db } from '../client'
import { keptCompanyLayer } from '../company-layer'
import { siteLayersOn } from '../rulesets-local'
import type { Tx } from '../tx'
import { type AnswerRow, loadBundle, type PermitBundle } from './bundle'
import { clearedSurveyNo, toFacts, toPerson } from './facts'
import { type Frozen, type Post, readAnswer, readAreaFacts, readFrozen, readPosts } from './frozen'
import { siteWeather } from './site-weather'

/** One permit at one moment, with what the rules and the permit's own life say about it. */
export type PermitContext = Readonly<{
  bundle: PermitBundle
  now: Date
  zone: string
  /** Today in the site's zone, ISO date. */
  day: string
  facts: PermitFacts
  frozen: Frozen | null
  /** With the work, which asks for items of its own. */
  area: SurveyPlace
  posts: readonly Post[]
  /** The last drawing of the area; null while nobody drew one. */
  drawing: AreaDrawing | null
  /** Of the survey that counts; a later look lies over the one the permit was issued on. */
  answers: SurveyAnswers
  /** The same answers with who gave them and when. */
  answered: ReadonlyMap<SurveyItemId, AnswerRow>
  progress: SurveyProgress
  /** How fast this survey was answered; null before two answers. */
  pace: SurveyPace | null
  /** What the conditions are made of, so that a page may ask what another answer would bring. */
  survey: SurveyInput
  conditions: Conditions
  layers: readonly Layer[]
  evaluation: Evaluation
  parameters: ResolvedParameters
  /** Frozen once issued; until then what would be frozen now. */
  duties: FrozenDuties
  watch: WatchProgress | null
  people: readonly PersonFact[]
}>

function layersOf(bundle: PermitBundle, day: string) {
  const company = keptCompanyLayer(bundle.company_layer, bundle.company_layer_no)
  const ids = bundle.rulesets.map((row) => row.ruleset_id)
  const rulesets = siteLayersOn(ids, bundle.local_rulesets, day)
  return { rulesets, company, layers: [...rulesets, company] }
}

function latestAnswers(bundle: PermitBundle): Map<SurveyItemId, AnswerRow> {
  const from = clearedSurveyNo(bundle)
  const counted = bundle.answers.filter((row) => row.survey_no >= from)
  return new Map(counted.map((row) => [row.item as SurveyItemId, row]))
}

const nameOf = (people: readonly PersonFact[], id: string | null) =>
  people.find((person) => person.id === id)?.name ?? ''

function isTrained(people: readonly PersonFact[], id: string | null, day: string): boolean {
  const person = people.find((one) => one.id === id)
  const holds = (q: PersonFact['qualifications'][number]) =>
    q.kind === 'fire_watch' && q.validFrom <= day && (q.validUntil === null || day <= q.validUntil)
  return person?.qualifications.some(holds) ?? false
}

/** Posts that were placed on the drawing are visited by every round as well. */
function drawnPosts(drawing: AreaDrawing | null, known: readonly Post[]): Post[] {
  const names = new Set(known.map((post) => post.name))
  return (drawing?.marks ?? [])
    .filter((mark) => mark.kind === 'watch_post' && !names.has(mark.label))
    .map(({ id, label }) => ({ id: `drawn-${id}`, name: label }))
}

/** `authoriserId`: who is about to issue, so that the rules see all three. */
export function toContext(
  bundle: PermitBundle,
  authoriserId: string | null = bundle.permit.issued_by,
): PermitContext {
  const now = new Date(bundle.now)
  const { zone } = bundle.site
  const day = localDay(now, zone)
  const process = bundle.permit.process as Conditions['process'] // as preparing it wrote it
  const area: SurveyPlace = { ...readAreaFacts(bundle.area.facts), process }
  const frozen = readFrozen(bundle.permit.frozen)
  const people = bundle.people.map(toPerson)
  const answered = latestAnswers(bundle)
  const answers = Object.fromEntries(
    [...answered].map(([item, row]) => [item, readAnswer(row.answer)]),
  ) as SurveyAnswers
  const { operator_id, fire_watch_id } = bundle.permit
  // An old permit is judged by the rules of the day it was issued.
  const issuedAt = bundle.permit.issued_at
  const rulesDay = issuedAt === null ? day : localDay(new Date(issuedAt), zone)
  const { rulesets, company, layers } = layersOf(bundle, rulesDay)
  const isEnclosed = area.enclosed || area.confinedSpace
  const weather = siteWeather(bundle, area)
  const facts: PermitFacts = {
    ...toFacts(bundle, frozen, isEnclosed, day),
    ...(weather ? { weather: weather.counts } : {}),
  }
  const survey: SurveyInput = {
    area,
    areaClass: bundle.area.area_class as StoredAreaClass, // a CHECK holds the column to these
    answers,
    gasTests: facts.gasTests,
    process,
    roles: { operator: operator_id, authoriser: authoriserId, fireWatch: fire_watch_id },
    isFireWatchTrained: isTrained(people, fire_watch_id, day),
    loneOperator: bundle.permit.lone_client !== null,
    ...(weather ? { weather: weather.reported } : {}),
  }
  const conditions = conditionsFrom(survey)
  const drawing = bundle.drawing ? areaDrawingSchema.parse(bundle.drawing.drawing) : null
  const evaluation = evaluateDrawn(layers, conditions, drawing)
  const parameters = resolveParameters(rulesets, company)
  const posts =
    frozen && frozen.posts.length > 0
      ? frozen.posts
      : [...readPosts(bundle.area.posts), ...drawnPosts(drawing, readPosts(bundle.area.posts))]
  const postNames = posts.map((post) => post.name)
  const duties =
    frozen?.duties ??
    freezeDuties({
      evaluation,
      parameters,
      isEnclosed,
      watchJudgement: null,
      monitoringMin: 0,
      posts: postNames,
    })
  return {
    bundle,
    now,
    zone,
    day,
    facts,
    frozen,
    area,
    posts,
    drawing,
    answers,
    answered,
    survey,
    conditions,
    layers,
    evaluation,
    parameters,
    duties,
    people,
    progress: surveyProgress(area, answers),
    pace: surveyPace({
      answeredAt: bundle.answers
        .filter((row) => row.survey_no === bundle.permit.survey_no)
        .map((row) => new Date(row.at)),
      items: surveyItems(area).length,
      otherLevels: Math.max(0, (drawing?.sheets.length ?? 1) - 1),
    }),
    watch: permitWatch(facts, now),
  }
}

/** Reads a permit for a check inside a transaction. */
export async function loadPermitContext(
  tx: Tx,
  permitId: string,
  authoriserId?: string,
): Promise<PermitContext> {
  const bundle = await loadBundle(tx, permitId)
  return toContext(bundle, authoriserId ?? bundle.permit.issued_by)
}

/** The permit's site, so that access is settled before anything else is read; another site's is not there. */
export async function assertOnPermit(
  viewer: Viewer,
  action: Action,
  permitId: string,
): Promise<{ siteId: string }> {
  const permit = await db.permit.findUnique({ where: { id: permitId }, select: { siteId: true } })
  if (!permit) throw new AppError('NOT_FOUND')
  assertCan(viewer, action, permit.siteId)
  return permit
}

/** A permit that the viewer may read, outside any transaction. */
export async function readPermitContext(viewer: Viewer, permitId: string): Promise<PermitContext> {
  const bundle = await loadBundle(db, permitId)
  if (!can(viewer, 'permit:read', bundle.permit.site_id)) throw new AppError('NOT_FOUND')
  return toContext(bundle)
}

/** A form filled in on an older permit must not decide about this one. */
export function assertFresh(context: PermitContext, version: number): void {
  if (context.bundle.permit.version !== version) throw new AppError('CONFLICT')
}

/** What is signed is what stood on the screen; the database holds the signature to it once more. */
export function assertSeen(context: PermitContext, contentHash: string): void {
  if (context.bundle.content_hash !== contentHash) throw new AppError('CONTENT_CHANGED')
}

export function personName(context: PermitContext, id: string | null): string {
  return nameOf(context.people, id)
}

/** Throws every reason of a refusal at once. */
export function refuseUnless(verdict: Verdict<object>, more: readonly Reason[] = []): void {
  const reasons = [...(verdict.ok ? [] : verdict.reasons), ...more]
  if (reasons.length > 0) throw new AppError('PERMIT_REFUSED', { count: reasons.length }, reasons)
}

import type { SurveyAnswers } from '@/lib/permit/survey-answers'
import { issuedData, type Judged, judge, surveyOf } from '../records/clearance'
import {
  type Answered,
  type PermitSheet,
  type RoundAnswer,
  writeAnswers,
  writeGasTest,
  writePermitEvent,
  writePrepared,
  writeRound,
  writeSignature,
} from '../records/permit'
import { type Doing, writeRow } from '../records/scribe'
import { localDay } from '../zones'
import { keepEstimate, type RunningJob } from './jobs'
import { nameOf, TEAMS } from './people'
import { type AreaPlan, postsOf, siteOf } from './places'
import { areaId, personId, type Rig, type World } from './world'

/** One permit of the simulation with the people by their keys. */
export type PermitRun = Readonly<{
  world: World
  job: RunningJob
  rig: Rig
  area: AreaPlan
  operator: string
  watch: string
  sheet: PermitSheet
  judged: Judged
  answers: readonly Answered[]
}>

export type PermitCast = Readonly<{
  job: RunningJob
  rig: Rig
  area: AreaPlan
  operator: string
  watch: string
  differing?: SurveyAnswers
  monitoringMin?: number
  atMs: number
}>

/** Names everybody and lets the rules judge the answers before anything is written. */
export function castPermit(world: World, cast: PermitCast): PermitRun {
  const { job, rig, area, operator, watch } = cast
  const site = siteOf(job.site)
  const people = {
    operatorId: personId(world, operator),
    fireWatchId: personId(world, watch),
    paiId: personId(world, TEAMS[job.site].pai),
  }
  const sheet: PermitSheet = {
    id: world.scribe.newId(cast.atMs),
    siteId: world.siteIds[job.site],
    areaId: areaId(world, job.site, area.key),
    jobId: job.id,
    cutListId: job.cutListId,
    outfitId: rig.id,
    ...people,
    posts: postsOf(area),
  }
  const answers = surveyOf(area.facts, { ...ordinaryFor(job, area), ...cast.differing })
  const judged = judge({
    facts: area.facts,
    areaClass: area.areaClass,
    rulesets: site.rulesets,
    day: localDay(site.zone, cast.atMs),
    answers,
    posts: sheet.posts,
    people: {
      operator: { id: people.operatorId, name: nameOf(operator) },
      fireWatch: { id: people.fireWatchId, name: nameOf(watch) },
      pai: { id: people.paiId, name: nameOf(TEAMS[job.site].pai) },
    },
    monitoringMin: cast.monitoringMin ?? 0,
  })
  return { world, job, rig, area, operator, watch, sheet, judged, answers }
}

/** What the survey finds at this kind of place. */
function ordinaryFor(job: RunningJob, area: AreaPlan): SurveyAnswers {
  const isPainted = job.cuts.some((cut) => cut.plan.coating === 'lead_paint')
  return {
    coating: isPainted ? { choice: 'lead' } : { choice: 'bare' },
    air: { choice: area.facts.indoors ? 'ventilated' : 'open_air' },
    burnables: area.facts.indoors
      ? { choice: 'moved', what: 'Pallets and rags', distanceFt: 20 }
      : { choice: 'none' },
    bystanders: { choice: area.facts.levelFt > 30 ? 'sign_up' : 'nobody' },
  }
}

export const as = (
  run: PermitRun,
  who: 'operator' | 'watch' | 'pai' | 'foreman',
  atMs: number,
): Doing => {
  const team = TEAMS[run.job.site]
  const people = { operator: run.operator, watch: run.watch, pai: team.pai, foreman: team.foreman }
  const roles = {
    operator: 'operator',
    watch: 'fire_watch',
    pai: 'pai',
    foreman: 'foreman',
  } as const
  return { atMs, personId: personId(run.world, people[who]), role: roles[who] }
}

const MIN = 60_000

export function prepare(
  run: PermitRun,
  atMs: number,
  planned: Readonly<{ fromMs: number; untilMs: number }>,
): void {
  const what = run.job.cuts.map((cut) => cut.plan.title.toLowerCase()).join(', ')
  writePrepared(run.world.scribe, run.sheet, as(run, 'foreman', atMs), {
    what: `Cut ${what}`,
    whereWords: run.area.name,
    ...planned,
    ...(run.job.site === 'mill' ? { hostPermit: 'Mill hot-work board, posted' } : {}),
  })
}

/** Some of the answers, or all of them. */
export function answer(
  run: PermitRun,
  atMs: number,
  surveyNo: number,
  only?: readonly string[],
): void {
  const answers = only ? run.answers.filter(({ item }) => only.includes(item)) : run.answers
  writeAnswers(run.world.scribe, run.sheet, as(run, 'foreman', atMs), { surveyNo, answers })
}

export function testGas(run: PermitRun, atMs: number): void {
  const { world, sheet } = run
  const day = localDay(siteOf(run.job.site).zone, atMs)
  writeGasTest(world.scribe, sheet, as(run, 'foreman', atMs), {
    oxygenPct: world.chance.pick([20.9, 20.9, 20.9]),
    lelPct: 0,
    coPpm: world.chance.pick([0, 0, 1, 2]),
    instrument: `GM-${run.rig.number}`,
    bumpTestedOn: day,
    calibratedUntil: `${Number(day.slice(0, 4)) + 1}-01-31`,
  })
}

export function clear(run: PermitRun, atMs: number): void {
  writePermitEvent(run.world.scribe, run.sheet, as(run, 'foreman', atMs), 'cleared')
}

/** Three signatures, the PAI's last, and the permit is open. */
export function issue(run: PermitRun, atMs: number, validUntilMs: number): void {
  const { scribe } = run.world
  writeSignature(scribe, run.sheet, as(run, 'operator', atMs - 4 * MIN), 'agree', 1)
  writeSignature(scribe, run.sheet, as(run, 'watch', atMs - 3 * MIN), 'acknowledge', 1)
  writeSignature(scribe, run.sheet, as(run, 'pai', atMs), 'issue', 1)
  const lastCutByMs = validUntilMs - run.judged.duties.watchMin * MIN
  writePermitEvent(scribe, run.sheet, as(run, 'pai', atMs), 'issued', {
    data: issuedData(run.judged, { validUntilMs, lastCutByMs, paiArrivedMs: atMs - 20 * MIN }),
  })
  keepEstimate(run.world, run.job, as(run, 'pai', atMs), run.rig, run.sheet.id)
}

/** Hoses, torch and regulators before the shift's first light. */
export function lookAtGear(run: PermitRun, atMs: number): void {
  const { world, rig, sheet } = run
  const doing = as(run, 'operator', atMs)
  writeRow(world.scribe, doing, 'outfit:inspect', 'outfit_events', {
    id: world.scribe.newId(atMs),
    outfit_id: rig.id,
    site_id: sheet.siteId,
    kind: 'inspected',
    person_id: doing.personId,
    role_then: doing.role,
    data: { json: { scope: 'shift', verdict: 'passed' } },
  })
}

/** From the bench to the three PINs, as on any morning: begun `prepareMs`, open `issueMs`. */
export function openFrom(
  run: PermitRun,
  times: Readonly<{ prepareMs: number; issueMs: number; validUntilMs: number }>,
): void {
  const { prepareMs, issueMs, validUntilMs } = times
  prepare(run, prepareMs, { fromMs: issueMs, untilMs: validUntilMs })
  lookAtGear(run, issueMs - 20 * MIN)
  answer(run, issueMs - 14 * MIN, 1)
  testGas(run, issueMs - 7 * MIN)
  clear(run, issueMs - 6 * MIN)
  issue(run, issueMs, validUntilMs)
}

export type HeldUntil = Readonly<{ atMs: number; resumeMs: number; reason: string }>

/** Torch out, a new look, the PAI's PIN, and on again; rounds in between. */
export function holdAndResume(
  run: PermitRun,
  held: HeldUntil,
  surveyNo: number,
  roundsAt: readonly number[],
): void {
  const { scribe } = run.world
  writePermitEvent(scribe, run.sheet, as(run, 'operator', held.atMs), 'held', {
    data: { reason: held.reason },
  })
  for (const atMs of roundsAt) writeRoundOf(run, atMs)
  answer(run, held.resumeMs - 4 * MIN, surveyNo, ['burnables', 'far_side', 'openings', 'air'])
  testGas(run, held.resumeMs - 3 * MIN)
  writeSignature(scribe, run.sheet, as(run, 'pai', held.resumeMs - MIN), 'resume', surveyNo)
  writePermitEvent(scribe, run.sheet, as(run, 'operator', held.resumeMs), 'resumed')
}

export function writeRoundOf(
  run: PermitRun,
  atMs: number,
  answers: readonly RoundAnswer[] = [],
): void {
  writeRound(run.world.scribe, run.sheet, as(run, 'watch', atMs), answers)
}

/** The last look, the statement where one is owed, two PINs, closed. */
export function closeAt(run: PermitRun, atMs: number): void {
  const { scribe } = run.world
  const { duties, impairments } = run.judged
  if (duties.monitoringMin > 0)
    writePermitEvent(scribe, run.sheet, as(run, 'watch', atMs - 4 * MIN), 'monitored')
  for (const impairment of impairments) {
    writePermitEvent(scribe, run.sheet, as(run, 'foreman', atMs - 4 * MIN), 'impairment_restored', {
      data: { impairmentId: impairment.id },
    })
  }
  if (duties.finalLookMin > 0)
    writePermitEvent(scribe, run.sheet, as(run, 'watch', atMs - 3 * MIN), 'final_look')
  if (duties.statementRequired)
    writePermitEvent(scribe, run.sheet, as(run, 'watch', atMs - 3 * MIN), 'statement', {
      data: { words: 'No fire is possible' },
    })
  writeSignature(scribe, run.sheet, as(run, 'watch', atMs - 2 * MIN), 'final_watch', 1)
  writeSignature(scribe, run.sheet, as(run, 'pai', atMs - MIN), 'final_pai', 1)
  writePermitEvent(scribe, run.sheet, as(run, 'pai', atMs), 'closed')
}

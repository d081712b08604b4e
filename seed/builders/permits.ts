import { v7 as uuidv7 } from 'uuid'
import { type Db, databaseNow, playNow } from '../play'
import { issuedData, judge, surveyOf } from '../records/clearance'
import {
  type PermitSheet,
  writeAnswers,
  writeGasTest,
  writePermitEvent,
  writePrepared,
  writeSignature,
} from '../records/permit'
import { type Doing, writeSetUp } from '../records/scribe'
import { localDay } from '../zones'
import { type BuiltOutfit, buildOutfit } from './gear'
import { type BuiltJob, buildCrew, buildJobWithCuts } from './jobs'
import { type BuiltPerson, type BuiltTeam, buildTeam } from './people'
import { type BuiltArea, type BuiltSite, buildSite } from './sites'

/** A site with people, a job and an outfit: what a permit stands on. */
export type Worksite = Readonly<{
  site: BuiltSite
  team: BuiltTeam
  job: BuiltJob
  outfit: BuiltOutfit
}>

export async function buildWorksite(db: Db, site?: BuiltSite): Promise<Worksite> {
  const at = site ?? (await buildSite(db))
  const team = await buildTeam(db, at.id)
  const crew = await buildCrew(db, {
    siteId: at.id,
    memberIds: [team.foreman.id, team.operator.id, team.fireWatch.id],
  })
  const job = await buildJobWithCuts(db, {
    siteId: at.id,
    foremanId: team.foreman.id,
    crewId: crew.id,
  })
  const outfit = await buildOutfit(db, {
    siteId: at.id,
    keeperId: team.foreman.id,
    crewId: crew.id,
  })
  return { site: at, team, job, outfit }
}

export type BuiltPermit = Worksite &
  Readonly<{
    permit: Readonly<{ id: string; number: number; stopCode: string; areaId: string }>
    sheet: PermitSheet
    area: BuiltArea
  }>

export type PermitWanted = Readonly<{
  worksite?: Worksite
  area?: BuiltArea
  validForMin?: number
  watchMin?: number
  monitoringMin?: number
  /** Whether somebody's word that no fire is possible is owed, whatever the rules ask for. */
  isStatementAsked?: boolean
  /** What a recorded survey would leave of the watch, whatever the rules allow. */
  surveyLeavesMin?: number
  /** What was put out of service for the work and must come back. */
  impairments?: readonly Readonly<{ id: string; label: string }>[]
}>

const HOUR_MS = 3_600_000
const named = ({ id, name }: BuiltPerson) => ({ id, name })
export const doingAs = (person: BuiltPerson, role: Doing['role']): Doing => ({
  atMs: 0,
  personId: person.id,
  role,
})

/** A permit in preparation: nothing answered, nobody signed. */
export async function buildPreparedPermit(db: Db, wanted: PermitWanted = {}): Promise<BuiltPermit> {
  const worksite = wanted.worksite ?? (await buildWorksite(db))
  const { site, team, job, outfit } = worksite
  const area = wanted.area ?? site.area
  const sheet: PermitSheet = {
    id: uuidv7(),
    siteId: site.id,
    areaId: area.id,
    jobId: job.id,
    cutListId: job.cutListId,
    outfitId: outfit.id,
    operatorId: team.operator.id,
    fireWatchId: team.fireWatch.id,
    paiId: team.pai.id,
    posts: area.posts,
  }
  const nowMs = await databaseNow(db)
  await playNow(db, (scribe) => {
    const words = {
      what: 'Cut plates and bars',
      whereWords: area.name,
      fromMs: nowMs,
      untilMs: nowMs + 8 * HOUR_MS,
      // Nobody cuts in a confined space without one.
      ...(area.facts.confinedSpace
        ? { entryPermit: { number: 'CS-1', untilMs: nowMs + 8 * HOUR_MS } }
        : {}),
    }
    writePrepared(scribe, sheet, doingAs(team.foreman, 'foreman'), words)
  })
  const { rows } = await db.query<{ number: number; stop_code: string }>(
    'SELECT number, stop_code FROM permits WHERE id = $1',
    [sheet.id],
  )
  const kept = rows[0]
  if (!kept) throw new Error('the permit was not kept')
  return {
    ...worksite,
    area,
    sheet,
    permit: { id: sheet.id, number: kept.number, stopCode: kept.stop_code, areaId: area.id },
  }
}

/** A permit whose walk is all answered and whose gas test is fresh; nobody has called it cleared. */
export async function buildAnsweredPermit(db: Db, wanted: PermitWanted = {}): Promise<BuiltPermit> {
  const built = await buildPreparedPermit(db, wanted)
  const { sheet, area, site, team } = built
  const today = localDay(site.zone, await databaseNow(db))
  await playNow(db, (scribe) => {
    const foreman = doingAs(team.foreman, 'foreman')
    writeAnswers(scribe, sheet, foreman, { surveyNo: 1, answers: surveyOf(area.facts) })
    writeGasTest(scribe, sheet, foreman, {
      oxygenPct: 20.9,
      lelPct: 0,
      coPpm: 0,
      instrument: 'GM-1',
      bumpTestedOn: today,
      calibratedUntil: today,
    })
  })
  return built
}

/** A permit whose area is cleared and whose gas test is fresh; nobody has signed. */
export async function buildClearedPermit(db: Db, wanted: PermitWanted = {}): Promise<BuiltPermit> {
  const built = await buildAnsweredPermit(db, wanted)
  await playNow(db, (scribe) =>
    writePermitEvent(scribe, built.sheet, doingAs(built.team.foreman, 'foreman'), 'cleared'),
  )
  return built
}

/** A permit that its operator and its fire watch have signed; only the PAI is awaited. */
export async function buildSignedPermit(db: Db, wanted: PermitWanted = {}): Promise<BuiltPermit> {
  const built = await buildClearedPermit(db, wanted)
  const { sheet, team } = built
  await playNow(db, (scribe) => {
    writeSignature(scribe, sheet, doingAs(team.operator, 'operator'), 'agree', 1)
    writeSignature(scribe, sheet, doingAs(team.fireWatch, 'fire_watch'), 'acknowledge', 1)
    if (built.area.facts.confinedSpace) {
      const { id } = team.foreman
      writeSetUp(scribe, 0, 'qualifications', {
        ...{ id: uuidv7(), person_id: id, kind: 'entry_supervisor', evidence: 'card' },
        ...{ valid_from: '2020-01-01', valid_until: '2099-12-31' },
      })
      writeSignature(
        scribe,
        sheet,
        doingAs(team.foreman, 'foreman'),
        'enter',
        1,
        'entry_supervisor',
      )
    }
  })
  return built
}

/** A permit with its three signatures, open from now. */
export async function buildOpenPermit(db: Db, wanted: PermitWanted = {}): Promise<BuiltPermit> {
  const built = await buildSignedPermit(db, wanted)
  const { sheet, area, site, team } = built
  const nowMs = await databaseNow(db)
  const judged = judge({
    facts: area.facts,
    areaClass: 'permit',
    rulesets: site.rulesets,
    day: localDay(site.zone, nowMs),
    answers: surveyOf(area.facts),
    posts: area.posts,
    people: {
      operator: named(team.operator),
      pai: named(team.pai),
      fireWatch: named(team.fireWatch),
    },
    monitoringMin: wanted.monitoringMin ?? 0,
  })
  const watchMin = Math.max(judged.duties.watchMin, wanted.watchMin ?? 0)
  const finalLookMin = Math.max(judged.duties.finalLookMin, watchMin)
  const validUntilMs = nowMs + (wanted.validForMin ?? 240) * 60_000
  const data = issuedData(
    {
      ...judged,
      duties: {
        ...judged.duties,
        watchMin,
        finalLookMin,
        statementRequired: wanted.isStatementAsked ?? judged.duties.statementRequired,
        watchMinAfterSurvey: wanted.surveyLeavesMin ?? judged.duties.watchMinAfterSurvey,
        finalLookMinAfterSurvey: wanted.surveyLeavesMin ?? judged.duties.finalLookMinAfterSurvey,
      },
      impairments: wanted.impairments ?? judged.impairments,
    },
    {
      validUntilMs,
      lastCutByMs: Math.max(nowMs, validUntilMs - watchMin * 60_000),
      paiArrivedMs: nowMs - 60_000,
    },
  )
  await playNow(db, (scribe) => {
    const pai = doingAs(team.pai, 'pai')
    writeSignature(scribe, sheet, pai, 'issue', 1)
    writePermitEvent(scribe, sheet, pai, 'issued', { data })
  })
  return built
}

/** A permit held from now: torch out, the watch owed. */
export async function buildHeldPermit(db: Db, wanted: PermitWanted = {}): Promise<BuiltPermit> {
  const built = await buildOpenPermit(db, wanted)
  await playNow(db, (scribe) => {
    writePermitEvent(scribe, built.sheet, doingAs(built.team.operator, 'operator'), 'held', {
      data: { reason: 'Crane lift overhead' },
    })
  })
  return built
}

/** A permit on watch from now: the work has ended. */
export async function buildWatchPermit(db: Db, wanted: PermitWanted = {}): Promise<BuiltPermit> {
  const built = await buildOpenPermit(db, wanted)
  await playNow(db, (scribe) => {
    writePermitEvent(scribe, built.sheet, doingAs(built.team.operator, 'operator'), 'work_ended')
  })
  return built
}

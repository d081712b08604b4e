import type { Action } from '@/lib/access/access'
import type { PermitEventKind, SignatureAct } from '@/lib/permit/types'
import type { Row } from '../facts'
import { type Doing, type Scribe, writeRow } from './scribe'

export type Post = Readonly<{ id: string; name: string; code?: string }>

/** A permit as everything that follows needs it. */
export type PermitSheet = Readonly<{
  id: string
  siteId: string
  areaId: string
  jobId: string
  cutListId: string | null
  outfitId: string | null
  operatorId: string
  fireWatchId: string
  paiId: string
  posts: readonly Post[]
}>

export type Preparation = Readonly<{
  what: string
  whereWords: string
  fromMs: number
  untilMs: number
  hostPermit?: string
  entryPermit?: Readonly<{ number: string; untilMs: number }>
}>

/** Acts by which each kind of event comes about, as the access table names them. */
const ACT_OF: Readonly<Record<PermitEventKind, Action>> = {
  prepared: 'permit:prepare',
  cleared: 'permit:clear',
  clearance_reopened: 'permit:clear',
  issued: 'permit:sign',
  held: 'permit:hold',
  resumed: 'permit:resume',
  work_ended: 'permit:end-work',
  expired: 'permit:end-work',
  stopped: 'work:stop',
  stop_withdrawn: 'work:stop',
  watch_on: 'permit:watch',
  watch_off: 'permit:watch',
  operator_on: 'permit:sign',
  operator_off: 'permit:sign',
  round: 'permit:round',
  monitored: 'permit:round',
  final_look: 'permit:round',
  statement: 'permit:close',
  reopened: 'permit:resume',
  closed: 'permit:close',
  withdrawn: 'permit:withdraw',
  watch_restarted: 'permit:watch',
  impairment_restored: 'permit:close',
  surveyed: 'permit:close',
  note: 'permit:watch',
}

export type EventExtras = Readonly<{
  data?: Readonly<Record<string, unknown>>
  subjectId?: string
  deviceAtMs?: number
}>

/** Adds one event to the permit's life; the database moves its state. */
export function writePermitEvent(
  scribe: Scribe,
  sheet: PermitSheet,
  doing: Doing,
  kind: PermitEventKind,
  extras: EventExtras = {},
): void {
  writeRow(scribe, doing, ACT_OF[kind], 'permit_events', {
    id: scribe.newId(doing.atMs),
    site_id: sheet.siteId,
    permit_id: sheet.id,
    kind,
    person_id: doing.personId,
    role_then: doing.role,
    subject_id: extras.subjectId ?? null,
    data: { json: extras.data ?? {} },
    device_at: extras.deviceAtMs === undefined ? null : new Date(extras.deviceAtMs),
  })
}

export function writePrepared(
  scribe: Scribe,
  sheet: PermitSheet,
  doing: Doing,
  words: Preparation,
): void {
  writeRow(scribe, doing, 'permit:prepare', 'permits', {
    id: sheet.id,
    site_id: sheet.siteId,
    area_id: sheet.areaId,
    job_id: sheet.jobId,
    cut_list_id: sheet.cutListId,
    outfit_id: sheet.outfitId,
    what: words.what,
    where_words: words.whereWords,
    cold_answer: {
      json: {
        answer: 'neither',
        why: 'Too thick to saw in place, and it carries load until it is down',
      },
    },
    host_permit: words.hostPermit ?? null,
    entry_permit: words.entryPermit?.number ?? null,
    entry_permit_until: words.entryPermit ? new Date(words.entryPermit.untilMs) : null,
    isolation: {
      json: {
        inside: 'Open section, looked through',
        behind: 'Bare steel, nothing stored',
        steps: [],
        provenBy: null,
      },
    },
    planned_from: new Date(words.fromMs),
    planned_until: new Date(words.untilMs),
    operator_id: sheet.operatorId,
    fire_watch_id: sheet.fireWatchId,
    prepared_by: doing.personId,
  })
  writePermitEvent(scribe, sheet, doing, 'prepared')
}

export type Answered = Readonly<{ item: string; answer: unknown }>

/** Answers of one survey, in one go. */
export function writeAnswers(
  scribe: Scribe,
  sheet: PermitSheet,
  doing: Doing,
  survey: Readonly<{ surveyNo: number; answers: readonly Answered[] }>,
): void {
  const rows = survey.answers.map(
    ({ item, answer }): Row => ({
      id: scribe.newId(doing.atMs),
      site_id: sheet.siteId,
      permit_id: sheet.id,
      survey_no: survey.surveyNo,
      item,
      answer: { json: answer },
      person_id: doing.personId,
      role_then: doing.role,
    }),
  )
  writeRow(scribe, doing, 'permit:clear', 'clearance_answers', ...rows)
}

export type GasFound = Readonly<{
  oxygenPct: number
  lelPct: number
  coPpm: number
  instrument: string
  bumpTestedOn: string
  calibratedUntil: string
}>

export function writeGasTest(
  scribe: Scribe,
  sheet: PermitSheet,
  doing: Doing,
  found: GasFound,
): void {
  writeRow(scribe, doing, 'permit:clear', 'gas_tests', {
    id: scribe.newId(doing.atMs),
    site_id: sheet.siteId,
    permit_id: sheet.id,
    oxygen_pct: found.oxygenPct,
    lel_pct: found.lelPct,
    co_ppm: found.coPpm,
    instrument: found.instrument,
    bump_tested_on: found.bumpTestedOn,
    calibrated_until: found.calibratedUntil,
    person_id: doing.personId,
    role_then: doing.role,
  })
}

export function writeSignature(
  scribe: Scribe,
  sheet: PermitSheet,
  doing: Doing,
  act: SignatureAct,
  surveyNo: number,
  part: string = doing.role,
): void {
  writeRow(scribe, doing, 'permit:sign', 'signatures', {
    id: scribe.newId(doing.atMs),
    site_id: sheet.siteId,
    permit_id: sheet.id,
    person_id: doing.personId,
    act,
    role: part,
    survey_no: surveyNo,
  })
}

export type RoundAnswer = 'clear' | 'warm' | 'smoke'

/** A round and its event, every code scanned; `answers` in the order of the permit's posts, clear where none is given. */
export function writeRound(
  scribe: Scribe,
  sheet: PermitSheet,
  doing: Doing,
  answers: readonly RoundAnswer[] = [],
): void {
  const id = scribe.newId(doing.atMs)
  const posts = sheet.posts.map((post, i) => ({
    postId: post.id,
    name: post.name,
    answer: answers[i] ?? 'clear',
    ...(post.code ? { code: post.code } : {}),
  }))
  writeRow(scribe, doing, 'permit:round', 'rounds', {
    id,
    site_id: sheet.siteId,
    permit_id: sheet.id,
    person_id: doing.personId,
    role_then: doing.role,
    posts: { json: posts },
  })
  writePermitEvent(scribe, sheet, doing, 'round', { subjectId: id })
}

export type Worked = Readonly<{
  fromMs: number
  toMs: number
  cutId: string | null
  pieces: number
  note?: string
}>

export function writeLog(scribe: Scribe, sheet: PermitSheet, doing: Doing, worked: Worked): void {
  writeRow(scribe, doing, 'permit:log', 'hot_work_logs', {
    id: scribe.newId(doing.atMs),
    site_id: sheet.siteId,
    job_id: sheet.jobId,
    area_id: sheet.areaId,
    permit_id: sheet.id,
    operator_id: sheet.operatorId,
    outfit_id: sheet.outfitId,
    cut_id: worked.cutId,
    pieces: worked.pieces,
    from_at: new Date(worked.fromMs),
    to_at: new Date(worked.toMs),
    person_id: doing.personId,
    role_then: doing.role,
    note: worked.note ?? null,
  })
}

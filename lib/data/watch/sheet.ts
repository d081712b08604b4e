import 'server-only'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { env } from '@/lib/env'
import { AppError } from '@/lib/errors'
import {
  choiceOf,
  type SurveyGroup,
  type SurveyItemId,
  type SurveyMark,
  surveyItems,
} from '@/lib/permit/survey'
import { db } from '../client'
import { findCutList, type HeaviestPiece, heaviestPiece } from '../estimates'
import { type PermitContext, personName, readPermitContext } from '../permits/context'
import { readAnswer } from '../permits/frozen'
import { type PermitHead, toHead } from '../permits/head'

export type SheetAnswer = Readonly<{
  item: SurveyItemId
  group: SurveyGroup
  choice: string
  mark: SurveyMark
  what: string | null
  distanceFt: number | null
  windMph: number | null
  by: string
  at: Date
}>

/** The sheet that hangs at the work: everything on it is as it stood when it was printed. */
export type PostedSheet = Readonly<{
  head: PermitHead
  companyName: string
  now: Date
  stopUrl: string
  issuedAt: Date
  validUntil: Date
  lastCutBy: Date | null
  outfit: string | null
  heaviest: HeaviestPiece | null
  breakLimitMin: number
  watchMin: number
  roundIntervalMin: number
  watchRule: string | null
  posts: readonly string[]
  answers: readonly SheetAnswer[]
  gasTest: Readonly<{
    at: Date
    oxygenPct: number
    lelPct: number
    coPpm: number | null
    h2sPpm: number | null
  }> | null
  signed: readonly Readonly<{
    act: 'agree' | 'acknowledge' | 'enter' | 'issue'
    name: string
    at: Date
  }>[]
  emergencyWords: string
  callThese: readonly Readonly<{ name: string; role: 'foreman' | 'pai'; phone: string }>[]
  entry: Readonly<{ seq: number; code: string }> | null
}>

function answersOf(context: PermitContext): SheetAnswer[] {
  return surveyItems(context.area).flatMap((item): SheetAnswer[] => {
    const row = context.answered.get(item.id)
    if (!row) return []
    const answer = readAnswer(row.answer)
    const choice = choiceOf(item, answer)
    if (!choice) return []
    const { what, distanceFt, windMph } = answer
    return [
      {
        item: item.id,
        group: item.group,
        choice: choice.id,
        mark: choice.mark,
        what: what || null,
        distanceFt: distanceFt ?? null,
        windMph: windMph ?? null,
        by: personName(context, row.person_id),
        at: new Date(row.at),
      },
    ]
  })
}

function signedOf(context: PermitContext): PostedSheet['signed'] {
  return (['agree', 'acknowledge', 'enter', 'issue'] as const).flatMap((act) => {
    const signature = context.facts.signatures.findLast((one) => one.act === act)
    return signature
      ? [{ act, name: personName(context, signature.personId), at: signature.signedAt }]
      : []
  })
}

interface Around {
  company: string
  seq: bigint | null
  code: string | null
  call: { name: string; role: 'foreman' | 'pai'; phone: string }[]
}

async function readAround({ bundle, facts }: PermitContext): Promise<Around> {
  const [row] = await db.$queryRaw<Around[]>`
    SELECT c.name AS company, e.seq, left(e.hash, 6) AS code,
      coalesce((SELECT jsonb_agg(jsonb_build_object('name', q.name, 'role', q.role, 'phone', q.phone) ORDER BY q.role, q.name) FROM (
        SELECT DISTINCT ON (p.id) p.name, p.phone, g.role FROM grants g JOIN people p ON p.id = g.person_id AND p.disabled_at IS NULL AND p.phone IS NOT NULL
        WHERE g.site_id = ${facts.siteId}::uuid AND g.revoked_at IS NULL AND (g.role = 'foreman' OR p.id = ${facts.paiId}::uuid AND g.role = 'pai') ORDER BY p.id, g.role LIMIT 4) AS q), '[]') AS call
    FROM company c LEFT JOIN LATERAL (
      SELECT seq, hash FROM audit_entries WHERE chain = ${facts.siteId} AND subject_id = ${bundle.permit.id} AND table_name = 'permit_events'
        AND payload::jsonb #>> '{row,kind}' = 'issued' ORDER BY seq DESC LIMIT 1) AS e ON true
    LIMIT 1`
  if (!row) throw new Error('the company row is missing: the database has not been seeded')
  return row
}

/** What is printed and posted; only a permit that was issued has a sheet. */
export async function getPostedSheet(viewer: Viewer, permitId: string): Promise<PostedSheet> {
  const context = await readPermitContext(viewer, permitId)
  const { facts, bundle, duties } = context
  assertCan(viewer, 'permit:read', facts.siteId)
  const { issuedAt, validUntil } = facts
  if (!issuedAt || !validUntil) throw new AppError('NOT_FOUND')
  const { cut_list_id, last_cut_by, stop_code } = bundle.permit
  const [around, list] = await Promise.all([
    readAround(context),
    cut_list_id ? findCutList(db, cut_list_id) : null,
  ])
  const test = bundle.gas_tests.at(-1)
  return {
    head: toHead(context),
    companyName: around.company,
    now: context.now,
    stopUrl: `${env.PUBLIC_URL ?? env.NEXTAUTH_URL ?? ''}/s/${stop_code}`,
    issuedAt,
    validUntil,
    lastCutBy: last_cut_by ? new Date(last_cut_by) : null,
    outfit: bundle.outfit?.number ?? null,
    heaviest: list ? heaviestPiece(list.cuts) : null,
    breakLimitMin: duties.breakLimitMin,
    watchMin: duties.watchMin,
    roundIntervalMin: duties.roundIntervalMin,
    watchRule: duties.rules.watch,
    posts: duties.posts,
    answers: answersOf(context),
    gasTest: test
      ? {
          at: new Date(test.at),
          oxygenPct: test.oxygen_pct,
          lelPct: test.lel_pct,
          coPpm: test.co_ppm,
          h2sPpm: test.h2s_ppm,
        }
      : null,
    signed: signedOf(context),
    emergencyWords: bundle.site.emergency_words,
    callThese: around.call,
    entry:
      around.seq === null || around.code === null
        ? null
        : { seq: Number(around.seq), code: around.code },
  }
}

import { v7 as uuidv7 } from 'uuid'
import { afterEach, expect, test } from 'vitest'
import { recordSurvey } from '@/lib/data/watch/duties'
import { getWatch } from '@/lib/data/watch/view'
import { dutySchema } from '@/lib/schemas/watch'
import { type BuiltPermit, buildWatchPermit, buildWorksite } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import { formOn, refusedFor, viewersOf } from './permit-world'
import { atMinute, walkRound } from './watch-world'

const db = () => testDatabase().owner
afterEach(() => atMinute(0))

/** 90 minutes at a shipyard, where a survey leaves so many. */
const shipyardWatch = async (surveyLeavesMin: number) => {
  const site = await buildSite(db(), { rulesets: ['us-osha-1915'] })
  const worksite = await buildWorksite(db(), site)
  return buildWatchPermit(db(), { worksite, watchMin: 90, surveyLeavesMin })
}

const survey = async ({ permit, ...built }: BuiltPermit) =>
  recordSurvey(
    viewersOf(built).pai,
    dutySchema.parse({ ...(await formOn(permit.id)), found: 'Opened every void, all cold' }),
  )
const watched = async ({ permit }: BuiltPermit) => {
  const { rows } = await db().query(
    `SELECT kerf_watch_owed(p) AS watch, kerf_final_look_owed(p) AS look, p.watch_minutes AS frozen,
            (kerf_watch_progress(p.id)).done_at IS NOT NULL AS done FROM permits p WHERE id = $1`,
    [permit.id],
  )
  return rows[0]
}

// 29 CFR 1915.504(b)(2): the watch is kept half an hour unless a survey finds that there is no further fire hazard.
test('a survey leaves of the watch what was frozen for it, on the screen and in the database', async () => {
  const built = await shipyardWatch(60)
  const { fireWatch } = viewersOf(built)
  expect(await watched(built)).toEqual({ watch: 90, look: 90, frozen: 90, done: false })
  for (const minute of [9, 19, 29, 39, 49, 59]) {
    await atMinute(minute)
    await walkRound(fireWatch, built.permit.id)
  }
  await atMinute(62)
  expect((await getWatch(fireWatch, built.permit.id)).owed.map((one) => one.code)).toContain(
    'watch_owed',
  )
  expect((await watched(built)).done).toBe(false)
  await survey(built)
  const { facts, owed, survey: seen } = await getWatch(fireWatch, built.permit.id)
  expect(facts.watchMin).toBe(60)
  expect(owed.map((one) => one.code)).toEqual(['final_look_missing'])
  expect(seen).toMatchObject({ leavesMin: 60, doneAt: expect.any(Date) })
  expect(await watched(built)).toEqual({ watch: 60, look: 60, frozen: 90, done: true })
})

test('work outside the permit after it brings the whole watch back', async () => {
  const built = await shipyardWatch(60)
  await atMinute(3)
  await survey(built)
  await atMinute(5)
  await db().query(
    `INSERT INTO work_outside_permit (id, site_id, area_id, permit_id, operator_id, from_at, to_at, what, why, person_id, role_then)
     VALUES ($1, $2, $3, $4, $5, kerf_now() - interval '1 min', kerf_now(), 'One more bolt', 'Forgot it', $5, 'test')`,
    [uuidv7(), built.site.id, built.permit.areaId, built.permit.id, built.team.operator.id],
  )
  expect((await watched(built)).watch).toBe(90)
})

test('where no text lets a survey count, or something is still warm, there is none', async () => {
  const plain = await buildWatchPermit(db())
  await expect(survey(plain)).rejects.toEqual(refusedFor('survey_shortens_nothing'))
  const warm = await shipyardWatch(60)
  await atMinute(9)
  await walkRound(viewersOf(warm).fireWatch, warm.permit.id, { Below: 'warm' })
  await expect(survey(warm)).rejects.toEqual(refusedFor('post_not_clear'))
  for (const [permitId, code] of [
    [plain.permit.id, 'SURVEY_SHORTENS_NOTHING'],
    [warm.permit.id, 'POST_NOT_COLD'],
  ])
    await expect(
      db().query(
        `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data) VALUES ($1, $2, $3, 'surveyed', $4, 'test', '{}')`,
        [uuidv7(), plain.site.id, permitId, plain.team.pai.id],
      ),
    ).rejects.toThrow(code)
})

test('no permit is issued whose shorter watch undercuts the company’s', async () => {
  await expect(shipyardWatch(59)).rejects.toThrow('DUTY_LAX')
  // Where no text lets a survey count, whatever it would leave.
  await expect(buildWatchPermit(db(), { watchMin: 90, surveyLeavesMin: 60 })).rejects.toThrow(
    'DUTY_LAX',
  )
})

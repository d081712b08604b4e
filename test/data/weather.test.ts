import { v7 as uuidv7 } from 'uuid'
import { beforeAll, expect, test } from 'vitest'
import { clearPermit } from '@/lib/data/permits/clearance'
import { getPermit } from '@/lib/data/permits/get'
import { issuePermit } from '@/lib/data/permits/issue'
import { reportWeather } from '@/lib/data/permits/weather'
import { permitStepSchema } from '@/lib/schemas/permit'
import { weatherReportSchema } from '@/lib/schemas/weather'
import {
  buildOpenPermit,
  buildSignedPermit,
  buildWorksite,
  type Worksite,
} from '../../seed/builders/permits'
import type { BuiltArea } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import {
  formOn,
  issuing,
  permitRow,
  prepared,
  refusedFor,
  signBoth,
  testAir,
  viewersOf,
  walk,
} from './permit-world'

const db = () => testDatabase().owner
let worksite: Worksite
let outdoors: BuiltArea
beforeAll(async () => {
  const built = await buildWorksite(db())
  const facts = { ...built.site.area.facts, indoors: false }
  await db().query('UPDATE areas SET facts = $2 WHERE id = $1', [
    built.site.area.id,
    JSON.stringify(facts),
  ])
  outdoors = { ...built.site.area, facts }
  worksite = { ...built, site: { ...built.site, area: outdoors } }
})

const say = (permitId: string, over: Record<string, string>) =>
  reportWeather(
    viewersOf(worksite).foreman,
    weatherReportSchema.parse({ key: uuidv7(), permitId, words: 'Vane on the crane', ...over }),
  )
const stateOf = async (permitId: string) => (await permitRow(permitId)).state
/** Of a site each: what is said of one holds whatever is open there. */
async function openHere() {
  const own = await buildWorksite(db())
  const facts = { ...own.site.area.facts, indoors: false }
  await db().query('UPDATE areas SET facts = $2 WHERE id = $1', [
    own.site.area.id,
    JSON.stringify(facts),
  ])
  worksite = { ...own, site: { ...own.site, area: { ...own.site.area, facts } } }
  return buildOpenPermit(db(), { worksite, area: worksite.site.area })
}
// 15 mph outside enclosures: Tarrant County (Texas) fire marshal, outdoor welding during burn bans.
test('more wind than is allowed holds an open permit at once, at the limit it goes on', async () => {
  const { permit } = await openHere()
  expect(await say(permit.id, { kind: 'wind', wind: '15' })).toMatchObject({ isHeld: false })
  expect(await stateOf(permit.id)).toBe('open')
  // 7 m/s is 15.66 mph.
  const gust = { kind: 'wind', wind: '7', windUnit: 'm/s' }
  expect(await say(permit.id, gust)).toMatchObject({ isHeld: true })
  const view = await getPermit(viewersOf(worksite).foreman, permit.id)
  expect([view.head.state, view.holdReason]).toEqual(['held', 'wind'])
})

test('a burn ban holds what is open in the open, and nothing indoors', async () => {
  const { permit } = await openHere()
  const inside = await buildOpenPermit(db(), {
    worksite: await buildWorksite(db(), worksite.site),
    area: worksite.site.otherArea,
  })
  expect(await say(permit.id, { kind: 'burn_ban' })).toMatchObject({ isHeld: true })
  expect([await stateOf(permit.id), await stateOf(inside.permit.id)]).toEqual(['held', 'open'])
})

test('under a ban nothing is cleared or opened in the open, by the app or by the database, until it is lifted', async () => {
  await openHere()
  const { foreman, fireWatch } = viewersOf(worksite)
  const permitId = await prepared(worksite)
  await walk(foreman, worksite, permitId, {
    burn_ban: { choice: 'none_today', what: 'County page' },
    wind: { choice: 'measured', wind: '6' },
  })
  await say(permitId, { kind: 'burn_ban' })
  const clear = async () => clearPermit(foreman, permitStepSchema.parse(await formOn(permitId)))
  await expect(clear()).rejects.toEqual(refusedFor('rules_refuse'))
  const lift = { key: uuidv7(), permitId, kind: 'ban_lifted', words: 'County page' }
  await expect(reportWeather(fireWatch, weatherReportSchema.parse(lift))).rejects.toMatchObject({
    code: 'FORBIDDEN',
  })
  await say(permitId, { kind: 'ban_lifted' })
  await clear()
  await signBoth(worksite, permitId)
  await testAir(foreman, worksite, permitId)

  await say(permitId, { kind: 'burn_ban' })
  const input = await issuing(worksite, permitId)
  await expect(issuePermit(foreman, { ...input, key: uuidv7() })).rejects.toEqual(
    refusedFor('rules_refuse'),
  )
  const { rows } = await db().query(
    `SELECT jsonb_path_query_array(kerf_weather_reasons(p, '{"windMaxMph": 5}'), '$[*].code') AS codes FROM permits p WHERE id = $1`,
    [permitId],
  )
  expect(rows).toEqual([{ codes: ['BURN_BAN', 'WIND_OVER'] }])
  await say(permitId, { kind: 'ban_lifted' })
  await issuePermit(foreman, input)
  expect(await stateOf(permitId)).toBe('open')
})

test('the database opens nothing under a ban, however the act came about', async () => {
  const { permit } = await openHere()
  const { rows } = await db().query<{ frozen: object }>(
    'SELECT frozen FROM permits WHERE id = $1',
    [permit.id],
  )
  const next = await buildSignedPermit(db(), {
    worksite: await buildWorksite(db(), worksite.site),
    area: worksite.site.area,
  })
  await say(permit.id, { kind: 'burn_ban' })
  const { pai } = next.team
  await db().query(
    `INSERT INTO signatures (id, site_id, permit_id, person_id, act, role, survey_no)
     VALUES ($1, $2, $3, $4, 'issue', 'pai', 1)`,
    [uuidv7(), next.site.id, next.permit.id, pai.id],
  )
  const issued = () =>
    db().query(
      `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data)
       VALUES ($1, $2, $3, 'issued', $4, 'pai', $5)`,
      [uuidv7(), next.site.id, next.permit.id, pai.id, JSON.stringify(rows[0]?.frozen)],
    )
  await expect(issued()).rejects.toThrow('BURN_BAN')
  await say(permit.id, { kind: 'ban_lifted' })
  await issued()
  expect(await stateOf(next.permit.id)).toBe('open')
})

import { v7 as uuidv7 } from 'uuid'
import { afterEach, expect, test } from 'vitest'
import { recordCheck } from '@/lib/data/gear/outfit-acts'
import { lookAgain } from '@/lib/data/permits/clearance'
import { getPermit } from '@/lib/data/permits/get'
import { resumePermit } from '@/lib/data/permits/hold'
import { issuePermit } from '@/lib/data/permits/issue'
import { logWork } from '@/lib/data/permits/log'
import { tick } from '@/lib/data/tick'
import { instantOfLocal, localClock, localDay, nextDay } from '@/lib/format/local-time'
import { shiftAfter } from '@/lib/permit/shift'
import { recordCheckSchema } from '@/lib/schemas/outfit'
import { logWorkSchema, newLookSchema, resumePermitSchema } from '@/lib/schemas/permit'
import {
  type BuiltPermit,
  buildOpenPermit,
  buildWorksite,
  type Worksite,
} from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { databaseNow } from '../../seed/play'
import { testDatabase } from '../setup/database'
import { morningZone } from '../setup/morning-zone'
import {
  cleared,
  formOn,
  issuing,
  PIN,
  permitRow,
  refusedFor,
  signBoth,
  siteTime,
  testAir,
  viewersOf,
} from './permit-world'
import { atMinute } from './watch-world'

const db = () => testDatabase().owner
afterEach(() => atMinute(0))
/** Past midnight a gas test’s instrument is of yesterday; here it is never near. */
const morning = async () => morningZone(await databaseNow(db()))

/** An open permit at a site whose next shift begins so many minutes from now. */
async function openBeforeShift(minutes: number): Promise<BuiltPermit> {
  const worksite = await buildWorksite(db(), await buildSite(db(), { zone: await morning() }))
  const built = await buildOpenPermit(db(), { worksite, validForMin: 240 })
  const { clock } = await siteTime(built.site.zone, minutes)
  await db().query('UPDATE sites SET shift_starts = $2 WHERE id = $1', [built.site.id, [clock]])
  return built
}

const log = async ({ permit, site, team }: BuiltPermit, from: number, to: number) => {
  const [begin, end] = [await siteTime(site.zone, from), await siteTime(site.zone, to)]
  return logWorkSchema.parse({
    key: uuidv7(),
    permitId: permit.id,
    pieces: '1',
    day: begin.day,
    from: begin.clock,
    to: end.clock,
    operatorId: team.operator.id,
  })
}

test('the clock holds an open permit when a new shift begins, and a look and the PAI light the torch again', async () => {
  const built = await openBeforeShift(45)
  const { foreman } = viewersOf(built)
  const { lookUntil } = await getPermit(foreman, built.permit.id)
  expect((lookUntil?.getTime() ?? 0) - (await databaseNow(db()))).toBeLessThan(46 * 60_000)
  await atMinute(43)
  await tick()
  expect((await permitRow(built.permit.id)).state).toBe('open')
  await atMinute(46)
  await tick()
  expect(await permitRow(built.permit.id)).toMatchObject({
    state: 'held',
    hold_reason: 'look_due_shift',
  })
  await lookAgain(
    foreman,
    newLookSchema.parse({
      ...(await formOn(built.permit.id)),
      sameAsCleared: 'yes',
      what: 'The night shift walked it',
    }),
  )
  await testAir(foreman, built, built.permit.id)
  await resumePermit(
    foreman,
    resumePermitSchema.parse({
      ...(await formOn(built.permit.id)),
      personId: built.team.pai.id,
      pin: PIN,
    }),
  )
  await tick()
  expect((await permitRow(built.permit.id)).state).toBe('open')
})

test('work of the new shift under the old look is not logged under the permit, though nobody held it', async () => {
  const built = await openBeforeShift(35)
  const { foreman } = viewersOf(built)
  await atMinute(50)
  await expect(logWork(foreman, await log(built, -10, -2))).rejects.toEqual(
    refusedFor('look_due_shift'),
  )
  await logWork(foreman, await log(built, -40, -20))
  const bare = db().query(
    `INSERT INTO hot_work_logs (id, site_id, job_id, area_id, permit_id, operator_id, from_at, to_at, person_id, role_then)
     VALUES ($1, $2, $3, $4, $5, $6, kerf_now() - interval '10 min', kerf_now() - interval '2 min', $6, 'test')`,
    [
      uuidv7(),
      built.site.id,
      built.job.id,
      built.permit.areaId,
      built.permit.id,
      built.team.operator.id,
    ],
  )
  await expect(bare).rejects.toThrow('LOOK_DUE_SHIFT')
})

test('the database finds the same next shift as lib/permit, over changes of the clock too', async () => {
  const { site } = await openBeforeShift(45)
  const starts = ['06:00', '14:00', '22:00']
  // Spring forward, autumn back, and an ordinary day, in zones on both sides of UTC.
  for (const zone of ['America/New_York', 'Europe/Athens', 'Australia/Sydney'])
    for (const noon of ['2026-03-08', '2026-11-01', '2026-03-29', '2026-10-25', '2026-06-10'])
      for (const hours of [-13, -6.6, -6.4, 0, 1.4, 1.6, 9.4, 10.2]) {
        const looked = new Date(Date.parse(`${noon}T12:00:00Z`) + hours * 3_600_000)
        await db().query('UPDATE sites SET zone = $2, shift_starts = $3 WHERE id = $1', [
          site.id,
          zone,
          starts,
        ])
        const { rows } = await db().query('SELECT kerf_shift_after($1, $2) AS at', [
          site.id,
          looked,
        ])
        const days = [localDay(looked, zone)]
        days.push(nextDay(days[0] ?? ''), nextDay(nextDay(days[0] ?? '')))
        const known = days.flatMap((day) =>
          starts.map((clock) => instantOfLocal({ day, clock, timeZone: zone })),
        )
        const found = shiftAfter(looked, known)
        expect(rows[0].at, `${zone} ${looked.toISOString()}`).toEqual(found)
        expect(starts).toContain(localClock(found ?? looked, zone))
      }
})

const check = ({ outfit, ...worksite }: Worksite, isGood: 'yes' | 'no') =>
  recordCheck(
    viewersOf({ outfit, ...worksite }).foreman,
    recordCheckSchema.parse({
      key: uuidv7(),
      outfitId: outfit.id,
      check: 'shift_inspection',
      isGood,
      reason: isGood === 'no' ? 'Hose cut to the braid' : '',
    }),
  )

test('under OSHA construction nothing is issued, and nothing goes on, before hoses and torch were looked at in the shift', async () => {
  const site = await buildSite(db(), { rulesets: ['us-osha-1926'], zone: await morning() })
  const worksite = await buildWorksite(db(), site)
  const [begun, next] = [await siteTime(site.zone, -60), await siteTime(site.zone, 40)]
  await db().query('UPDATE sites SET shift_starts = $2 WHERE id = $1', [
    site.id,
    [begun.clock, next.clock],
  ])
  const permitId = await cleared(worksite)
  await signBoth(worksite, permitId)
  await testAir(viewersOf(worksite).foreman, worksite, permitId)
  const issue = async () =>
    issuePermit(viewersOf(worksite).foreman, await issuing(worksite, permitId))
  await expect(issue()).rejects.toEqual(refusedFor('gear_check_due'))
  await check(worksite, 'yes')
  await issue()
  await atMinute(41)
  await tick()
  expect(await permitRow(permitId)).toMatchObject({ state: 'held', hold_reason: 'gear_check_due' })
  await expect(
    db().query(
      `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data)
       VALUES ($1, $2, $3, 'resumed', $4, 'test', '{"decision": "allowed"}')`,
      [uuidv7(), site.id, permitId, worksite.team.pai.id],
    ),
  ).rejects.toThrow('GEAR_CHECK_DUE')
})

test('an outfit that fails its look holds the work under it in the same breath', async () => {
  const built = await buildOpenPermit(db())
  await check(built, 'no')
  expect(await permitRow(built.permit.id)).toMatchObject({ state: 'held', hold_reason: 'outfit' })
})

import { v7 as uuidv7 } from 'uuid'
import { afterEach, describe, expect, test } from 'vitest'
import { closePermit, signOffWatch } from '@/lib/data/watch/close'
import { leaveWatch, recordFinalLook, recordMonitoring } from '@/lib/data/watch/duties'
import { recordRound } from '@/lib/data/watch/round'
import { getWatch } from '@/lib/data/watch/view'
import { dutySchema, finalSignSchema, leaveWatchSchema, roundSchema } from '@/lib/schemas/watch'
import { type BuiltPermit, buildHeldPermit, buildWatchPermit } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { formOn, PIN, permitRow, refusedFor, viewerOf, viewersOf } from './permit-world'
import { atMinute, POSTS, round, walkRound } from './watch-world'

const db = () => testDatabase().owner
afterEach(() => atMinute(0))

const duty = async (permitId: string) =>
  dutySchema.parse({ ...(await formOn(permitId)), found: 'Nothing warm, nothing smells' })
const signing = async (built: BuiltPermit, who: 'fireWatch' | 'pai' | 'operator', pin = PIN) =>
  finalSignSchema.parse({ ...(await formOn(built.permit.id)), personId: built.team[who].id, pin })

async function watchedToTheEnd(built: BuiltPermit) {
  const { fireWatch } = viewersOf(built)
  for (const minute of [9, 19, 29, 39, 49]) {
    await atMinute(minute)
    await walkRound(fireWatch, built.permit.id)
  }
  await atMinute(61)
}

describe('a fire watch', () => {
  test('runs its rounds, its final look and its two signatures, and only then closes', async () => {
    const built = await buildWatchPermit(db())
    const { fireWatch, pai } = viewersOf(built)
    const permitId = built.permit.id
    const begun = await getWatch(fireWatch, permitId)
    expect(begun).toMatchObject({
      posts: POSTS,
      isViewerOn: true,
      facts: { watchMin: 60, roundIntervalMin: 10 },
    })
    expect(begun.owed.map((one) => one.code)).toEqual(['watch_owed', 'final_look_missing'])

    await watchedToTheEnd(built)
    const done = await getWatch(fireWatch, permitId)
    expect(done.rounds).toHaveLength(5)
    expect(done.owed.map((one) => one.code)).toEqual(['final_look_missing'])
    await recordFinalLook(fireWatch, await duty(permitId))
    await signOffWatch(fireWatch, await signing(built, 'fireWatch'))
    expect((await getWatch(pai, permitId)).signedOff?.name).toBe(built.team.fireWatch.name)
    await closePermit(pai, await signing(built, 'pai'))
    expect((await permitRow(permitId)).state).toBe('closed')
  })

  test('refuses to close early with every reason at once, and keeps the attempt', async () => {
    const built = await buildWatchPermit(db())
    const { pai } = viewersOf(built)
    await expect(closePermit(pai, await signing(built, 'pai'))).rejects.toEqual(
      refusedFor('watch_owed', 'final_look_missing', 'signature_missing'),
    )
    const { rows } = await db().query(
      'SELECT person_id, action, reasons FROM refused_attempts WHERE subject_id = $1',
      [built.permit.id],
    )
    expect(rows).toHaveLength(1)
    expect(rows[0]).toMatchObject({ person_id: built.team.pai.id, action: 'permit:close' })
    expect(rows[0].reasons).toHaveLength(3)
    expect((await permitRow(built.permit.id)).state).toBe('watch')
  })

  test('closes for no operator of its own work and with no wrong PIN', async () => {
    const built = await buildWatchPermit(db())
    const { fireWatch, foreman } = viewersOf(built)
    await watchedToTheEnd(built)
    await recordFinalLook(fireWatch, await duty(built.permit.id))
    await expect(signOffWatch(foreman, await signing(built, 'operator'))).rejects.toEqual(
      refusedFor('watch_not_stood'),
    )
    await signOffWatch(foreman, await signing(built, 'fireWatch'))
    await expect(closePermit(foreman, await signing(built, 'operator'))).rejects.toEqual(
      refusedFor('OWN_WORK', 'SIGNER_NOT_OF_SITE'),
    )
    await expect(closePermit(foreman, await signing(built, 'pai', '999999'))).rejects.toMatchObject(
      { code: 'PIN_WRONG' },
    )
    await closePermit(foreman, await signing(built, 'pai'))
    expect((await permitRow(built.permit.id)).state).toBe('closed')
  })

  test('takes the same round once, and refuses one too early or without all its posts', async () => {
    const built = await buildWatchPermit(db())
    const { fireWatch } = viewersOf(built)
    const permitId = built.permit.id
    await expect(walkRound(fireWatch, permitId)).rejects.toEqual(refusedFor('round_too_early'))
    await atMinute(9)
    await expect(recordRound(fireWatch, permitId, round({}, ['Below']))).rejects.toEqual(
      refusedFor('post_unanswered'),
    )
    const sent = round()
    const [first, second] = await Promise.all([
      recordRound(fireWatch, permitId, sent),
      recordRound(fireWatch, permitId, sent),
    ])
    expect(second).toEqual(first)
    expect((await getWatch(fireWatch, permitId)).rounds).toHaveLength(1)
  })

  test('adds the minutes of a late round, starts over after a gap, and after smoke', async () => {
    const built = await buildWatchPermit(db())
    const { fireWatch, pai } = viewersOf(built)
    const permitId = built.permit.id
    await atMinute(14)
    expect((await walkRound(fireWatch, permitId)).lateMs).toBeGreaterThan(3.9 * 60_000)
    const { rows } = await db().query<{ added_ms: string }>(
      'SELECT added_ms FROM kerf_watch_progress($1)',
      [permitId],
    )
    expect(Number(rows[0]?.added_ms)).toBeGreaterThan(3.9 * 60_000)
    await atMinute(20)
    await walkRound(fireWatch, permitId, { Below: 'smoke' })
    const after = await permitRow(permitId)
    expect((after.torch_out_at as unknown as Date).getTime()).toBeGreaterThan(
      Date.now() + 19 * 60_000,
    )
    const told = await db().query(
      'SELECT person_id FROM notices WHERE subject_id = $1 AND kind = $2',
      [permitId, 'smoke'],
    )
    expect(told.rows.map((row) => row.person_id)).toContain(built.team.pai.id)
    expect((await getWatch(pai, permitId)).notClear.map((one) => one.post)).toEqual(['Below'])
  })

  test('does not end on a warm post, which may be looked at again before the next round', async () => {
    const built = await buildWatchPermit(db())
    const { fireWatch } = viewersOf(built)
    const permitId = built.permit.id
    await atMinute(10)
    await walkRound(fireWatch, permitId, { Below: 'warm' })
    expect((await getWatch(fireWatch, permitId)).owed.map((one) => one.code)).toContain(
      'post_not_clear',
    )
    await atMinute(13)
    await walkRound(fireWatch, permitId)
    expect((await getWatch(fireWatch, permitId)).owed.map((one) => one.code)).not.toContain(
      'post_not_clear',
    )
  })

  test('does not count while nobody watches', async () => {
    const built = await buildWatchPermit(db())
    const { fireWatch } = viewersOf(built)
    const permitId = built.permit.id
    await atMinute(5)
    await leaveWatch(
      fireWatch,
      leaveWatchSchema.parse({
        ...(await formOn(permitId)),
        personId: built.team.fireWatch.id,
        why: 'Taken ill',
      }),
    )
    await atMinute(8)
    const view = await getWatch(fireWatch, permitId)
    expect(view.watchers).toEqual([])
    expect(view.facts.presence[0]?.toMs).not.toBeNull()
    await expect(walkRound(fireWatch, permitId)).rejects.toEqual(refusedFor('watch_not_on'))
  })

  test('is owed from a hold, and counts from torch out', async () => {
    const built = await buildHeldPermit(db())
    const { fireWatch } = viewersOf(built)
    await atMinute(10)
    await walkRound(fireWatch, built.permit.id)
    const view = await getWatch(fireWatch, built.permit.id)
    expect(view.head.state).toBe('held')
    expect(view.rounds).toHaveLength(1)
  })

  test('is monitored where that was asked for, and not before its minutes', async () => {
    const built = await buildWatchPermit(db(), { monitoringMin: 30 })
    const { fireWatch } = viewersOf(built)
    await watchedToTheEnd(built)
    await expect(recordFinalLook(fireWatch, await duty(built.permit.id))).rejects.toEqual(
      refusedFor('monitoring_owed'),
    )
    await expect(recordMonitoring(fireWatch, await duty(built.permit.id))).rejects.toEqual(
      refusedFor('monitoring_owed'),
    )
    await atMinute(92)
    await recordMonitoring(fireWatch, await duty(built.permit.id))
    await recordFinalLook(fireWatch, await duty(built.permit.id))
    expect((await getWatch(fireWatch, built.permit.id)).owed).toEqual([])
  })

  test('of another site is not there', async () => {
    const [mine, theirs] = [await buildWatchPermit(db()), await buildWatchPermit(db())]
    const stranger = viewerOf(theirs.team.fireWatch, theirs.site.id, 'fire_watch')
    await expect(getWatch(stranger, mine.permit.id)).rejects.toMatchObject({ code: 'NOT_FOUND' })
    await expect(walkRound(stranger, mine.permit.id)).rejects.toMatchObject({ code: 'NOT_FOUND' })
    await expect(closePermit(stranger, await signing(mine, 'pai'))).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    await expect(
      recordRound(
        viewerOf(mine.team.operator, mine.site.id, 'auditor'),
        mine.permit.id,
        roundSchema.parse({ key: uuidv7(), posts: [] }),
      ),
    ).rejects.toMatchObject({ code: 'FORBIDDEN' })
  })
})

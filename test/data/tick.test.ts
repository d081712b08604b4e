import { afterEach, describe, expect, test } from 'vitest'
import { tick } from '@/lib/data/tick'
import { buildHeldPermit, buildOpenPermit, buildWatchPermit } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { permitRow, viewersOf } from './permit-world'
import { atMinute, kindsOf, walkRound } from './watch-world'

const db = () => testDatabase().owner
afterEach(() => atMinute(0))

const noticesOf = async (permitId: string, kind: string) =>
  (
    await db().query<{ person_id: string }>(
      'SELECT person_id FROM notices WHERE subject_id = $1 AND kind = $2',
      [permitId, kind],
    )
  ).rows.map((row) => row.person_id)

describe('time alone', () => {
  test('ends open and held permits at their end, once, from the minute they ended', async () => {
    const [open, held] = [
      await buildOpenPermit(db(), { validForMin: 30 }),
      await buildHeldPermit(db(), { validForMin: 30 }),
    ]
    await tick()
    expect((await permitRow(open.permit.id)).state).toBe('open')
    await atMinute(31)
    await tick()
    await tick()
    for (const { permit } of [open, held]) {
      const row = await permitRow(permit.id)
      expect(row.state).toBe('watch')
      expect((await kindsOf(permit.id)).filter((kind) => kind === 'expired')).toHaveLength(1)
    }
    const { torch_out_at, valid_until } = (await permitRow(open.permit.id)) as unknown as Record<
      string,
      Date
    >
    expect(torch_out_at).toEqual(valid_until)
    expect(await noticesOf(open.permit.id, 'permit_expired')).toContain(open.team.pai.id)
  })

  test('holds an open permit when its gas test has run out, and says why', async () => {
    const built = await buildOpenPermit(db(), { validForMin: 240 })
    const { rows } = await db().query<{ min: number; needed: boolean }>(
      'SELECT gas_test_valid_min AS min, gas_test_required AS needed FROM permits WHERE id = $1',
      [built.permit.id],
    )
    expect(rows[0]?.needed).toBe(true)
    await atMinute((rows[0]?.min ?? 0) + 1)
    await tick()
    const event = await db().query(
      "SELECT person_id, role_then, data FROM permit_events WHERE permit_id = $1 AND kind = 'held'",
      [built.permit.id],
    )
    expect(event.rows).toEqual([
      {
        person_id: null,
        role_then: 'system',
        data: { reason: 'gas_test_expired', reasons: ['gas_test_expired'] },
      },
    ])
  })

  test('tells of a round that was missed, once for each due time, and who watches too', async () => {
    const built = await buildWatchPermit(db())
    await atMinute(9)
    await walkRound(viewersOf(built).fireWatch, built.permit.id)
    await atMinute(18)
    await tick()
    expect(await noticesOf(built.permit.id, 'round_missed')).toEqual([])
    await atMinute(21)
    await tick()
    await tick()
    const told = await noticesOf(built.permit.id, 'round_missed')
    expect(told).toEqual(
      expect.arrayContaining([built.team.pai.id, built.team.fireWatch.id, built.team.foreman.id]),
    )
    expect(new Set(told).size).toBe(told.length)
  })

  test('checks every chain, and not again within the quarter of an hour', async () => {
    const built = await buildOpenPermit(db())
    await atMinute(3000)
    await tick()
    const checks = async () =>
      (
        await db().query<{ ok: boolean }>('SELECT ok FROM chain_checks WHERE chain = $1', [
          built.site.id,
        ])
      ).rows
    const before = await checks()
    expect(before.at(-1)?.ok).toBe(true)
    await tick()
    expect(await checks()).toEqual(before)
  })

  test('is done by one process at a time', async () => {
    const done = await Promise.all([tick(), tick(), tick()])
    expect(done.filter((one) => one === 'done').length).toBeGreaterThanOrEqual(1)
    expect(done).toContain('elsewhere')
  })
})

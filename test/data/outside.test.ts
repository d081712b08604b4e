import { v7 as uuidv7 } from 'uuid'
import { afterEach, describe, expect, test } from 'vitest'
import { getOutsideForm, recordWorkOutside } from '@/lib/data/outside'
import { getRecord } from '@/lib/data/records/record'
import { getToday } from '@/lib/data/today/today'
import { outsideSchema } from '@/lib/schemas/watch'
import { buildWatchPermit, buildWorksite, type Worksite } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { permitRow, siteTime, viewerOf, viewersOf } from './permit-world'
import { atMinute, kindsOf } from './watch-world'

const db = () => testDatabase().owner
afterEach(() => atMinute(0))

async function told(
  here: Worksite,
  over: Record<string, string> = {},
  minutes: readonly [number, number] = [-20, -5],
) {
  const [from, to] = [
    await siteTime(here.site.zone, minutes[0]),
    await siteTime(here.site.zone, minutes[1]),
  ]
  return outsideSchema.parse({
    key: uuidv7(),
    areaId: here.site.area.id,
    permitId: '',
    operatorId: here.team.operator.id,
    day: from.day,
    from: from.clock,
    to: to.clock,
    what: 'One bolt',
    why: 'Forgotten before lunch',
    ...over,
  })
}

describe('work outside a permit', () => {
  test('is kept as a fact, told to the PAI, and once however often it is sent', async () => {
    const here = await buildWorksite(db())
    const { operator, pai } = viewersOf(here)
    const input = await told(here)
    const first = await recordWorkOutside(operator, input)
    expect(await recordWorkOutside(operator, input)).toEqual(first)
    const [notice] = (await getToday(pai, here.site.id)).notices
    expect(notice).toMatchObject({
      kind: 'work_outside_permit',
      areaName: here.site.area.name,
      words: 'One bolt',
    })
    const { rows } = await db().query(
      'SELECT count(*)::int AS n FROM hot_work_logs WHERE site_id = $1',
      [here.site.id],
    )
    expect(rows[0].n).toBe(0)
  })

  test('starts the watch of its permit over from when the torch went out, and stands in that record', async () => {
    const built = await buildWatchPermit(db())
    const { operator, pai } = viewersOf(built)
    await atMinute(30)
    await recordWorkOutside(operator, await told(built, { permitId: built.permit.id }, [-12, -4]))
    expect(await kindsOf(built.permit.id)).toContain('watch_restarted')
    const out = (await permitRow(built.permit.id)).torch_out_at as unknown as Date
    expect(out.getTime()).toBeGreaterThan(Date.now() + 24 * 60_000)
    const record = await getRecord(pai, { permitId: built.permit.id, isAll: false, after: 0 })
    expect(record.entries.map((entry) => entry.what)).toEqual(
      expect.arrayContaining(['work_outside_permit', 'event_watch_restarted']),
    )
  })

  test("can't lie in the future", async () => {
    const here = await buildWorksite(db())
    await expect(
      recordWorkOutside(viewersOf(here).operator, await told(here, {}, [20, 40])),
    ).rejects.toMatchObject({ code: 'IN_FUTURE' })
  })

  test('of another site is not there, nor by who only reads', async () => {
    const [mine, theirs] = [await buildWorksite(db()), await buildWorksite(db())]
    const stranger = viewersOf(theirs).foreman
    await expect(recordWorkOutside(stranger, await told(mine))).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    await expect(getOutsideForm(stranger, mine.site.id)).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    const auditor = viewerOf(mine.team.pai, mine.site.id, 'auditor')
    await expect(recordWorkOutside(auditor, await told(mine))).rejects.toMatchObject({
      code: 'FORBIDDEN',
    })
  })
})

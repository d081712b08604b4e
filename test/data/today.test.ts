import { v7 as uuidv7 } from 'uuid'
import { afterEach, describe, expect, test } from 'vitest'
import { seeNotice } from '@/lib/data/today/notices'
import { getToday } from '@/lib/data/today/today'
import { stopWork } from '@/lib/data/watch/stop'
import { noticeSeenSchema, stopSchema } from '@/lib/schemas/watch'
import {
  buildClearedPermit,
  buildHeldPermit,
  buildOpenPermit,
  buildPreparedPermit,
  buildWatchPermit,
  buildWorksite,
} from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import { viewerOf, viewersOf } from './permit-world'
import { atMinute } from './watch-world'

const db = () => testDatabase().owner
afterEach(() => atMinute(0))

describe('today at a site', () => {
  test('is empty where nothing runs', async () => {
    const here = await buildWorksite(db())
    expect(await getToday(viewersOf(here).operator, here.site.id)).toMatchObject({
      permits: [],
      outfits: [],
      waiting: [],
      notices: [],
    })
  })

  test('shows what ends first on top, a held permit by the watch it owes, and the gas of who cuts', async () => {
    const open = await buildOpenPermit(db(), { validForMin: 240 })
    const today = await getToday(viewersOf(open).operator, open.site.id)
    expect(today.permits.map((one) => one.state)).toEqual(['open'])
    expect(today.outfits).toHaveLength(1)
    expect(today.outfits[0]?.isBurning).toBe(true)
    const held = await buildHeldPermit(db(), { validForMin: 240 })
    const [row] = (await getToday(viewersOf(held).operator, held.site.id)).permits
    expect(row?.endsAt).toEqual(row?.watch?.endsAt)
    expect((row?.validUntil?.getTime() ?? 0) - (row?.endsAt.getTime() ?? 0)).toBeGreaterThan(
      170 * 60_000,
    )
  })

  test('says to each what waits on them, and nothing to who may only read', async () => {
    const preparing = await buildPreparedPermit(db())
    const kinds = async (viewer: Parameters<typeof getToday>[0], siteId: string) =>
      (await getToday(viewer, siteId)).waiting.map((one) => one.kind)
    expect(await kinds(viewersOf(preparing).foreman, preparing.site.id)).toEqual(['clear'])
    const cleared = await buildClearedPermit(db())
    expect(await kinds(viewersOf(cleared).operator, cleared.site.id)).toEqual(['sign_operator'])
    expect(await kinds(viewersOf(cleared).fireWatch, cleared.site.id)).toEqual([])
    const watched = await buildWatchPermit(db())
    expect(await kinds(viewersOf(watched).fireWatch, watched.site.id)).toEqual([])
    await atMinute(9)
    expect(await kinds(viewersOf(watched).fireWatch, watched.site.id)).toEqual(['round'])
    expect(
      await kinds(viewerOf(watched.team.pai, watched.site.id, 'auditor'), watched.site.id),
    ).toEqual([])
  })

  test('tells of a stop until it was seen, to each for themselves', async () => {
    const built = await buildOpenPermit(db())
    const { operator, pai } = viewersOf(built)
    await stopWork(operator, built.permit.id, stopSchema.parse({ key: uuidv7(), step: 'hold' }))
    const [notice] = (await getToday(pai, built.site.id)).notices
    expect(notice).toMatchObject({ kind: 'stop_pressed', permitId: built.permit.id })
    const seen = noticeSeenSchema.parse({ key: uuidv7(), noticeId: notice?.id })
    await expect(seeNotice(operator, seen)).rejects.toMatchObject({ code: 'NOT_FOUND' })
    await seeNotice(pai, seen)
    await seeNotice(pai, seen)
    expect((await getToday(pai, built.site.id)).notices).toEqual([])
    expect((await getToday(operator, built.site.id)).notices).toHaveLength(1)
  })

  test('of another site is not there', async () => {
    const [mine, theirs] = [await buildWorksite(db()), await buildSite(db())]
    await expect(getToday(viewersOf(mine).foreman, theirs.id)).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
  })
})

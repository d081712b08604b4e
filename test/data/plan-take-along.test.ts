import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { feedPerson, feedToken, isFeedToken } from '@/lib/auth/feed-token'
import { confirmOrder } from '@/lib/data/orders'
import { getAccuracy } from '@/lib/data/plan/accuracy'
import { feedOwnerOf, listFeedDays, ownFeed } from '@/lib/data/plan/calendar'
import { getOrderSheet, listSheetSuppliers } from '@/lib/data/plan/sheets'
import { confirmOrderSchema } from '@/lib/schemas/order'
import {
  insert,
  newOutfit,
  newSite,
  newSupplier,
  newViewer,
  refusal,
  rowsOf,
  setCompany,
} from './gas-world'

let siteId: string
let manager: Viewer
let stranger: Viewer
let supplierId: string
const due = new Date(Date.now() + 6 * 86_400_000).toISOString().slice(0, 10)

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  manager = await newViewer(siteId, 'shop_manager')
  stranger = await newViewer(await newSite(), 'shop_manager')
  supplierId = await newSupplier()
  await insert('prices', {
    id: uuidv7(),
    supplier_id: supplierId,
    size_id: 'oxygen-244',
    fill_minor: 4400,
    rent_minor_per_day: 30,
    currency: 'USD',
    valid_from: '2020-01-01',
  })
  await confirmOrder(
    manager,
    confirmOrderSchema.parse({
      key: uuidv7(),
      siteId,
      supplierId,
      dueOn: due,
      sizeId: ['oxygen-244'],
      quantity: ['3'],
    }),
  )
})

describe('an order sheet', () => {
  test('holds what is ordered at one’s own sites and has not come', async () => {
    const { orders } = await getOrderSheet(manager, supplierId)
    expect(orders).toHaveLength(1)
    expect(orders[0]).toMatchObject({ dueOn: due, lines: [{ quantity: 3, fillMinor: 4400 }] })
    expect((await listSheetSuppliers(manager)).map((one) => one.id)).toEqual([supplierId])
  })

  test('is not there for another site’s manager, and refused who may not order', async () => {
    await expect(getOrderSheet(stranger, supplierId)).rejects.toEqual(refusal('NOT_FOUND'))
    const watch = await newViewer(siteId, 'fire_watch')
    await expect(getOrderSheet(watch, supplierId)).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(getOrderSheet(manager, uuidv7())).rejects.toEqual(refusal('NOT_FOUND'))
  })
})

describe('the calendar that is followed by an address', () => {
  test('tells the deliveries of one’s own sites', async () => {
    const { days } = await listFeedDays(manager.personId)
    expect(days.filter((day) => day.kind === 'delivery')).toMatchObject([
      { day: due, lines: [{ quantity: 3 }] },
    ])
    expect((await listFeedDays(stranger.personId)).days).toEqual([])
  })

  test('tells what falls due of outfits, extinguishers, instruments and qualifications', async () => {
    const person = await newViewer(siteId, 'operator')
    const day = (days: number) =>
      new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10)
    await insert('qualifications', {
      id: uuidv7(),
      person_id: person.personId,
      kind: 'torch_operator',
      valid_from: day(-300),
      valid_until: day(20),
      evidence: 'Card',
    })
    const outfitId = await newOutfit(siteId)
    await insert('outfit_events', {
      id: uuidv7(),
      outfit_id: outfitId,
      site_id: siteId,
      kind: 'inspected',
      person_id: manager.personId,
      role_then: 'shop_manager',
      data: { json: { scope: 'full' } },
    })
    const extinguisherId = uuidv7()
    await insert('extinguishers', {
      id: extinguisherId,
      site_id: siteId,
      number: 'X-7',
      kind: 'dry_chemical',
      rating: '4-A:80-B:C',
      place: 'Gate',
    })
    await insert('extinguisher_checks', {
      id: uuidv7(),
      extinguisher_id: extinguisherId,
      site_id: siteId,
      kind: 'annual',
      is_good: true,
      person_id: manager.personId,
    })
    const { days } = await listFeedDays(manager.personId)
    const found = days
      .filter((one) => one.kind !== 'delivery')
      .map((one) => [one.kind, one.check, Date.parse(one.day) - Date.parse(day(0))] as const)
      .map(([kind, check, ms]) => [kind, check, Math.round(ms / 86_400_000)])
    // A site's own day may be the one before or after: thirty days, a month and a year give or take one.
    const near = (kind: string, check: string, days: number) =>
      found.some(
        (one) => one[0] === kind && one[1] === check && Math.abs(Number(one[2]) - days) <= 1,
      )
    expect(near('qualification', 'torch_operator', 20)).toBe(true)
    expect(near('outfit', 'inspection', 30)).toBe(true)
    expect(near('extinguisher', 'monthly', 31)).toBe(true)
    expect(near('extinguisher', 'annual', 366)).toBe(true)
  })

  test('is opened by its own signature alone, and by none once grants have changed', async () => {
    const owner = await ownFeed(manager)
    if (!owner) throw new Error('the manager has no feed')
    const token = feedToken(owner)
    expect(feedPerson(token)).toBe(manager.personId)
    expect(isFeedToken(token, owner)).toBe(true)
    expect(isFeedToken(`${token.slice(0, -1)}${token.endsWith('A') ? 'B' : 'A'}`, owner)).toBe(
      false,
    )
    expect(isFeedToken(token.replace(manager.personId, stranger.personId), owner)).toBe(false)
    await rowsOf('UPDATE grants SET revoked_at = kerf_now() WHERE person_id = $1', [
      manager.personId,
    ])
    const later = await feedOwnerOf(manager.personId)
    expect(later && isFeedToken(token, later)).toBe(false)
    expect((await listFeedDays(manager.personId)).days).toEqual([])
    expect(await feedOwnerOf('nobody')).toBeNull()
  })
})

describe('how good the forecasts were', () => {
  test('is told from what came off empty, each week forecast without seeing it', async () => {
    expect((await getAccuracy(stranger)).tested).toBeNull()
    const busySite = await newSite()
    const keeper = await newViewer(busySite, 'shop_manager')
    const days = Array.from({ length: 80 }, (_, i) => ({
      site_id: busySite,
      gas_id: 'oxygen',
      day: new Date(Date.now() - (i + 2) * 86_400_000).toISOString().slice(0, 10),
      cylinders: 1 + (i % 2),
    }))
    await insert('emptied_days', ...days)
    const { tested } = await getAccuracy(keeper)
    expect(tested?.series).toBe(1)
    expect(tested?.byClass.reduce((sum, row) => sum + row.windows, 0)).toBe(12)
    const chosen = tested?.rows.find((row) => row.method === 'chosen')
    expect(chosen?.bias).toBeGreaterThan(0.8)
    expect(chosen?.bias).toBeLessThan(1.2)
  })
})

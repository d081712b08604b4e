import pg from 'pg'
import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test, vi } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { cancelOrder, confirmOrder, getOrders } from '@/lib/data/orders'
import { cancelOrderSchema, confirmOrderSchema } from '@/lib/schemas/order'
import {
  cylinderAt,
  insert,
  newSite,
  newSupplier,
  newViewer,
  refusal,
  rowsOf,
  setCompany,
} from './gas-world'

let siteId: string
let manager: Viewer
let foreman: Viewer
let auditor: Viewer
let stranger: Viewer
let supplierId: string

const day = (days: number) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10)

const order = (quantities: Record<string, string>, over: Record<string, unknown> = {}) =>
  confirmOrderSchema.parse({
    key: uuidv7(),
    siteId,
    supplierId,
    dueOn: day(6),
    sizeId: Object.keys(quantities),
    quantity: Object.values(quantities),
    ...over,
  })

/** A job that takes about so many 244 ft³ cylinders of oxygen in the coming days. */
async function planJob(oxygenKg: number) {
  const jobId = uuidv7()
  const cutListId = uuidv7()
  await insert('jobs', {
    id: jobId,
    site_id: siteId,
    number: `J${jobId.slice(-8)}`,
    title: 'Columns',
    planned_start: day(1),
    planned_end: day(5),
    state: 'planned',
    created_by: foreman.personId,
  })
  await insert('cut_lists', {
    id: cutListId,
    site_id: siteId,
    job_id: jobId,
    title: 'Cuts',
    fuel: 'acetylene',
    process: 'hand',
  })
  await insert('cuts', {
    id: uuidv7(),
    site_id: siteId,
    cut_list_id: cutListId,
    ordinal: 1,
    title: 'Plate',
    material: 'carbon_steel',
    shape: 'plate',
    dims: { json: { shape: { kind: 'plate', thicknessM: 0.025, lengthM: 2 } } },
    count: 10,
  })
  await insert('estimates', {
    id: uuidv7(),
    site_id: siteId,
    job_id: jobId,
    cut_list_id: cutListId,
    reason: 'kept',
    calc_version: 'test',
    inputs: { json: {} },
    result: { json: { cuts: [] } },
    sources: { json: [] },
    oxygen_kg: oxygenKg,
    oxygen_u_kg: oxygenKg / 10,
    fuel: 'acetylene',
    fuel_kg: 0,
    fuel_u_kg: 0,
    kept_by: foreman.personId,
  })
}

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  manager = await newViewer(siteId, 'shop_manager')
  foreman = await newViewer(siteId, 'foreman')
  auditor = await newViewer(siteId, 'auditor')
  stranger = await newViewer(await newSite(), 'shop_manager')
  supplierId = await newSupplier()
  await insert('prices', {
    id: uuidv7(),
    supplier_id: supplierId,
    size_id: 'oxygen-244',
    fill_minor: 4000,
    rent_minor_per_day: 25,
    currency: 'USD',
    valid_from: '2020-01-01',
  })
  await cylinderAt(siteId, 'oxygen-244', manager)
  await cylinderAt(siteId, 'oxygen-244', manager)
  await planJob(40) // about five of 244 ft³
})

const oxygenOf = async (viewer = manager) =>
  (await getOrders(viewer, siteId)).gases.find((gas) => gas.gasId === 'oxygen')

describe('ordering gas', () => {
  test('says what is there, what is planned, when it is short and how many to order', async () => {
    const page = await getOrders(manager, siteId)
    const oxygen = page.gases.find((gas) => gas.gasId === 'oxygen')
    expect(oxygen).toMatchObject({ sizeId: 'oxygen-244', full: 2, part: 0 })
    expect(oxygen?.stockCylinders).toBeGreaterThan(1.5)
    expect(oxygen?.stockCylinders).toBeLessThanOrEqual(2)
    expect(oxygen?.plannedCylinders).toBeGreaterThan(4)
    expect(oxygen?.forecast.daysUntilShort).toBeLessThanOrEqual(6)
    const proposal = page.proposals.find((one) => one.sizeId === 'oxygen-244')
    expect(proposal?.quantity).toBeGreaterThanOrEqual(3)
    expect(page.mayConfirm).toBe(true)
  })

  test('proposes the next truck day of the site that leaves the supplier time, from who sells it for the least', async () => {
    const { suppliers, supplierId: proposed } = await getOrders(manager, siteId)
    const cheapest = suppliers.find((one) => one.id === proposed)
    expect(cheapest?.prices).toContainEqual({
      sizeId: 'oxygen-244',
      sizeName: expect.any(String),
      gasId: 'oxygen',
      fillMinor: 3200,
      currency: 'USD',
    })
    const dueOn = cheapest?.dueOn ?? ''
    expect(new Date(`${dueOn}T00:00:00Z`).getUTCDay()).toBe(3) // the site's trucks come on Wednesday
    expect(dueOn >= day(1)).toBe(true)
  })

  test('proposes what lasts from that truck until the one after', async () => {
    const page = await getOrders(manager, siteId)
    const dueOn = page.suppliers.find((one) => one.id === supplierId)?.dueOn ?? ''
    const days = Math.round((Date.parse(dueOn) - Date.parse(day(0))) / 86_400_000)
    const over = page.gases.find((gas) => gas.gasId === 'oxygen')?.forecast.orderUpTo.overDays ?? 0
    // A truck a week; the site's own day may still be the one before.
    expect([days + 7, days + 8]).toContain(over)
  })

  test('confirms an order once, counts it from then on, and says how much later it is short', async () => {
    const before = (await oxygenOf())?.forecast.daysUntilShort
    const input = order({ 'oxygen-244': '12', 'acetylene-225': '' }, { dueOn: day(2) })
    const confirmed = await confirmOrder(manager, input)
    const outlook = confirmed.outlook.find((gas) => gas.gasId === 'oxygen')
    expect(outlook?.before).toBe(before)
    expect(outlook?.after ?? 99).toBeGreaterThan(before ?? 99)
    expect(await confirmOrder(manager, input)).toMatchObject({ id: confirmed.id })
    expect(
      await rowsOf('SELECT size_id, quantity, fill_minor FROM order_lines WHERE order_id = $1', [
        confirmed.id,
      ]),
    ).toEqual([{ size_id: 'oxygen-244', quantity: 12, fill_minor: 4000 }])
    expect((await oxygenOf())?.arrivals).toEqual([{ day: expect.any(Number), cylinders: 12 }])
    expect(
      await rowsOf(
        "SELECT actor_id FROM audit_entries WHERE subject_id = $1 AND act = 'order:confirm' AND table_name = 'orders'",
        [confirmed.id],
      ),
    ).toEqual([{ actor_id: manager.personId }])
  })

  test('refuses the same key with another quantity', async () => {
    const input = order({ 'oxygen-244': '1' })
    await confirmOrder(manager, input)
    await expect(confirmOrder(manager, { ...input, quantity: [2] })).rejects.toEqual(
      refusal('KEY_REUSED'),
    )
  })

  test('refuses a day that the supplier cannot make, and a size that it does not sell', async () => {
    await expect(
      confirmOrder(manager, order({ 'oxygen-244': '1' }, { dueOn: day(0) })),
    ).rejects.toEqual(refusal('DUE_TOO_SOON'))
    await expect(confirmOrder(manager, order({ 'acetylene-225': '1' }))).rejects.toEqual(
      refusal('SIZE_NOT_SOLD'),
    )
    await expect(
      confirmOrder(manager, order({ 'oxygen-244': '1' }, { supplierId: uuidv7() })),
    ).rejects.toEqual(refusal('SUPPLIER_UNKNOWN'))
  })

  test('refuses an empty order before it reaches the database', () => {
    const typed = {
      key: uuidv7(),
      siteId,
      supplierId,
      dueOn: day(6),
      sizeId: ['a'],
      quantity: [''],
    }
    expect(confirmOrderSchema.safeParse(typed).success).toBe(false)
    expect(confirmOrderSchema.safeParse({ ...typed, quantity: ['2.5'] }).success).toBe(false)
    expect(confirmOrderSchema.safeParse({ ...typed, quantity: ['2'] }).success).toBe(true)
  })
})

describe('the page of orders', () => {
  test('lists what was ordered from whom, the latest first, in a fixed number of queries', async () => {
    const { number } = await confirmOrder(manager, order({ 'oxygen-244': '4' }))
    const sent = vi.spyOn(pg.Client.prototype, 'query')
    const { orders } = await getOrders(manager, siteId)
    expect(sent.mock.calls.length).toBeLessThanOrEqual(8) // twelve a page, less session, company and site
    sent.mockRestore()
    expect(orders[0]).toMatchObject({
      number,
      state: 'confirmed',
      lines: [{ sizeName: expect.any(String), quantity: 4 }],
    })
    expect(orders[0]?.dueOn).toEqual(new Date(`${day(6)}T00:00:00Z`))
  })
})

describe('taking an order back', () => {
  const cancel = (orderId: string, version = 0) =>
    cancelOrderSchema.parse({ key: uuidv7(), orderId, version: String(version) })

  test('takes it out of the forecast, once, and not with a stale form', async () => {
    const { id } = await confirmOrder(manager, order({ 'oxygen-244': '3' }))
    const counted = (await oxygenOf())?.arrivals.reduce((sum, one) => sum + one.cylinders, 0) ?? 0
    const input = cancel(id)
    await cancelOrder(manager, input)
    expect(await cancelOrder(manager, input)).toEqual({ id })
    expect((await oxygenOf())?.arrivals.reduce((sum, one) => sum + one.cylinders, 0)).toBe(
      counted - 3,
    )
    await expect(cancelOrder(manager, cancel(id))).rejects.toEqual(refusal('CONFLICT'))
  })

  test('is refused once it has come', async () => {
    const { id } = await confirmOrder(manager, order({ 'oxygen-244': '1' }))
    await rowsOf("UPDATE orders SET state = 'delivered' WHERE id = $1", [id])
    await expect(cancelOrder(manager, cancel(id))).rejects.toEqual(refusal('CONFLICT'))
  })

  test("answers another site's order, and one that never was, as not found", async () => {
    const { id } = await confirmOrder(manager, order({ 'oxygen-244': '1' }))
    await expect(cancelOrder(stranger, cancel(id))).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(cancelOrder(manager, cancel(uuidv7()))).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(cancelOrder(foreman, cancel(id))).rejects.toEqual(refusal('FORBIDDEN'))
  })
})

describe('who may order', () => {
  test('lets a foreman and an auditor read, and order nothing', async () => {
    for (const viewer of [foreman, auditor]) {
      expect((await getOrders(viewer, siteId)).mayConfirm).toBe(false)
      await expect(confirmOrder(viewer, order({ 'oxygen-244': '1' }))).rejects.toEqual(
        refusal('FORBIDDEN'),
      )
    }
  })

  test('shows a stranger no site, and a fire watch no orders', async () => {
    const watch = await newViewer(siteId, 'fire_watch')
    await expect(getOrders(stranger, siteId)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(confirmOrder(stranger, order({ 'oxygen-244': '1' }))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    await expect(getOrders(watch, siteId)).rejects.toEqual(refusal('FORBIDDEN'))
  })
})

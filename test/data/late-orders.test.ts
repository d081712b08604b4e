import { v7 as uuidv7 } from 'uuid'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { cancelOrder, confirmOrder } from '@/lib/data/orders'
import { delayOrder, readOpenOrders } from '@/lib/data/plan/late-orders'
import { readPlanFacts } from '@/lib/data/plan/problem'
import { cancelOrderSchema, confirmOrderSchema, delayOrderSchema } from '@/lib/schemas/order'
import { planAskOf } from '@/lib/schemas/plan'
import { testDatabase } from '../setup/database'
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
import { asRuntime } from './invariants/world'

const PERMISSION_DENIED = '42501'
const DAY_MS = 86_400_000
const day = (days: number) => new Date(Date.now() + days * DAY_MS).toISOString().slice(0, 10)

let siteId: string
let manager: Viewer
let orderId: string

beforeAll(setCompany)

beforeEach(async () => {
  siteId = await newSite('UTC')
  manager = await newViewer(siteId, 'shop_manager')
  const supplierId = await newSupplier()
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
  const order = confirmOrderSchema.parse({
    key: uuidv7(),
    siteId,
    supplierId,
    dueOn: day(6),
    sizeId: ['oxygen-244'],
    quantity: ['3'],
  })
  orderId = (await confirmOrder(manager, order)).id
})

const late = (more: Record<string, unknown> = {}) =>
  delayOrderSchema.parse({
    key: uuidv7(),
    orderId,
    days: '2',
    reason: 'Their truck broke down',
    ...more,
  })
const fixedIn = async () => {
  const { problem } = await readPlanFacts([siteId], planAskOf({}))
  return problem.cells.find((cell) => cell.sizeId === 'oxygen-244')?.fixedIn ?? []
}

describe('an order that its supplier says is late', () => {
  test('comes on the later day in the next plan, and says who took it down, from when and why', async () => {
    expect((await fixedIn()).slice(5, 10)).toEqual([0, 3, 0, 0, 0])
    expect((await delayOrder(manager, late())).dueOn).toBe(day(8))
    expect((await fixedIn()).slice(5, 10)).toEqual([0, 0, 0, 3, 0])
    const [open] = await readOpenOrders([siteId])
    expect(open).toMatchObject({
      id: orderId,
      dueOn: day(8),
      delay: { days: 2, wasOn: day(6), reason: 'Their truck broke down' },
    })
    const trail = await rowsOf<{ table_name: string; act: string; actor_id: string }>(
      `SELECT table_name, act, actor_id FROM audit_entries WHERE subject_id = $1 AND act = 'order:delay' ORDER BY seq`,
      [orderId],
    )
    expect(trail.map((entry) => entry.table_name).toSorted()).toEqual(['order_delays', 'orders'])
    expect(new Set(trail.map((entry) => entry.actor_id))).toEqual(new Set([manager.personId]))
  })

  test('is later by its days once, however often the same submission comes', async () => {
    const input = late()
    const first = await delayOrder(manager, input)
    expect(await delayOrder(manager, input)).toEqual(first)
    expect((await readOpenOrders([siteId]))[0]?.dueOn).toBe(day(8))
    expect((await delayOrder(manager, late({ days: '1' }))).dueOn).toBe(day(9))
  })

  test('has its day from that word alone: the app can write no other', async () => {
    const written = asRuntime(testDatabase(), manager.personId, (client) =>
      client.query('UPDATE orders SET due_on = due_on + 1 WHERE id = $1', [orderId]),
    )
    await expect(written).rejects.toMatchObject({ code: PERMISSION_DENIED })
  })

  test('is refused once it is over, without a reason, without days, and to whoever may not order', async () => {
    const watch = await newViewer(siteId, 'fire_watch')
    await expect(delayOrder(watch, late())).rejects.toEqual(refusal('FORBIDDEN'))
    for (const wrong of [{ reason: ' ' }, { days: '0' }, { days: '61' }, { days: '' }])
      expect(() => late(wrong)).toThrow()
    await cancelOrder(manager, cancelOrderSchema.parse({ key: uuidv7(), orderId, version: '0' }))
    await expect(delayOrder(manager, late())).rejects.toEqual(refusal('ORDER_OVER'))
  })
})

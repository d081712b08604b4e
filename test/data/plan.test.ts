import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { confirmOrder } from '@/lib/data/orders'
import { getPlan, solveSupply } from '@/lib/data/plan/plan'
import { localDay } from '@/lib/format/local-time'
import { confirmOrderSchema } from '@/lib/schemas/order'
import { planAskOf } from '@/lib/schemas/plan'
import {
  cylinderAt,
  insert,
  newSite,
  newSupplier,
  newViewer,
  refusal,
  setCompany,
} from './gas-world'

let siteId: string
let manager: Viewer
let supplierId: string

const day = (days: number) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10)
const ZONE = 'America/Chicago'
/** Of the supplier whom `newSupplier` makes: the truck comes on the day that is so far off, whichever day this runs. */
const LEAD_DAYS = 2
/** ISO weekday at the site in so many days. */
const weekdayIn = (days: number) =>
  new Date(`${localDay(new Date(Date.now() + days * 86_400_000), ZONE)}T12:00Z`).getUTCDay() || 7
const usual = planAskOf({})
/** One more job of eight cylinders of oxygen: more than the site has. */
const withJob = () => planAskOf({ addSite: siteId, addGas: 'oxygen', addCylinders: '8' })
const ordersIn = (plan: Awaited<ReturnType<typeof getPlan>>) =>
  plan.rows.filter((row) => row.kind === 'order' && row.lines.length > 0)
const solved = async (ask: ReturnType<typeof planAskOf>) => {
  await solveSupply(manager, ask, () => undefined)
  return getPlan(manager, ask)
}

beforeAll(async () => {
  await setCompany()
  siteId = await newSite(ZONE, [weekdayIn(LEAD_DAYS)])
  manager = await newViewer(siteId, 'shop_manager')
  supplierId = await newSupplier()
  await insert('prices', {
    id: uuidv7(),
    supplier_id: supplierId,
    size_id: 'oxygen-244',
    fill_minor: 100, // cheaper than the supplier whom the company has already
    rent_minor_per_day: 1,
    currency: 'USD',
    valid_from: '2020-01-01',
  })
  await cylinderAt(siteId, 'oxygen-244', manager)
})

describe('the supply plan', () => {
  test('is nothing where there is enough, and says who may not look', async () => {
    const plan = await getPlan(manager, usual)
    expect(ordersIn(plan)).toEqual([])
    expect(plan.outs).toHaveLength(1)
    const watch = await newViewer(siteId, 'fire_watch')
    await expect(getPlan(watch, usual)).rejects.toEqual(refusal('FORBIDDEN'))
  })

  test('orders for one more job, and says what the order is for', async () => {
    const plan = await solved(withJob())
    expect(plan.known.isSolved).toBe(true)
    const [order] = ordersIn(plan)
    expect([order?.siteId, order?.supplierId, order?.mayConfirm]).toEqual([
      siteId,
      supplierId,
      true,
    ])
    expect(order?.lines[0]?.quantity).toBeGreaterThanOrEqual(8)
    expect(order?.helps?.without).toBeGreaterThan(0.9)
    expect(order?.helps?.withLine).toBeLessThan(0.9)
    expect(plan.cost.total).toBeLessThan(plan.costNothing.total)
  })

  test('left out, the order shows what that does', async () => {
    const [order] = ordersIn(await solved(withJob()))
    const change = `${order?.key}~~0`
    const plan = await getPlan(manager, planAskOf({ ...addressOf(), change }))
    expect(ordersIn(plan).map((row) => row.key)).not.toContain(order?.key)
    expect(plan.cost.runOut).toBeGreaterThan(plan.costProposed.runOut)
  })

  test('a supplier who is late by two days comes later in the next plan', async () => {
    const first = (plan: Awaited<ReturnType<typeof getPlan>>) => ordersIn(plan)[0]?.date ?? ''
    const intime = first(await solved(withJob()))
    const late = first(await solved(planAskOf({ ...addressOf(), late: '7' })))
    expect(intime).not.toBe('')
    expect(late > intime).toBe(true)
  })

  test('a confirmed order is fixed: the next plan asks for no more of it', async () => {
    const before = ordersIn(await solved(withJob()))
    const [order] = before
    if (!order) throw new Error('nothing was ordered')
    const asked = before.flatMap((row) => row.lines).reduce((sum, line) => sum + line.quantity, 0)
    await confirmOrder(
      manager,
      confirmOrderSchema.parse({
        key: uuidv7(),
        siteId,
        supplierId,
        dueOn: order.date,
        sizeId: order.lines.map((line) => line.sizeId),
        quantity: order.lines.map((line) => String(line.quantity)),
      }),
    )
    const after = ordersIn(await solved(withJob()))
    const left = after.flatMap((row) => row.lines).reduce((sum, line) => sum + line.quantity, 0)
    expect(left).toBeLessThanOrEqual(asked - (order.lines[0]?.quantity ?? 0))
    expect(day(0) <= order.date).toBe(true)
  })
})

const addressOf = () => ({ addSite: siteId, addGas: 'oxygen', addCylinders: '8' })

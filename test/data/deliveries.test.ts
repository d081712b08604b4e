import { v7 as uuidv7 } from 'uuid'
import { afterEach, beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { deliveryChoices, receiveDelivery } from '@/lib/data/deliveries'
import {
  getDelivery,
  holdBatch,
  listDeliveries,
  settleDifference,
} from '@/lib/data/deliveries-differences'
import { checkDeliveryInvoice } from '@/lib/data/invoices'
import { deliverySchema } from '@/lib/schemas/delivery'
import { invoiceSchema } from '@/lib/schemas/invoice'
import { testDatabase } from '../setup/database'
import {
  cylinderAt,
  event,
  insert,
  newCylinder,
  newSite,
  newSupplier,
  newViewer,
  refusal,
  rowsOf,
  setCompany,
} from './gas-world'

const HOUR_MS = 3_600_000
const DAY_MS = 24 * HOUR_MS

let siteId: string
let yard: Viewer
let watch: Viewer
let stranger: Viewer
let supplierId: string

type TypedRow = Readonly<{
  batch?: string
  outcome?: string
  serial: string
  sizeId?: string
  filledOn?: string
  dueMonth?: string
  requalifiedOn?: string
}>
const delivery = (rows: readonly TypedRow[], over: Record<string, string> = {}) =>
  deliverySchema.parse({
    key: uuidv7(),
    siteId,
    supplierId,
    rows: rows.map((row) => ({ sizeId: 'oxygen-244', ...row })),
    ...over,
  })

const fresh = (n: number) =>
  Array.from({ length: n }, () => ({ serial: `OX-${uuidv7().slice(-8).toUpperCase()}` }))

async function newOrder(lines: Record<string, number>): Promise<string> {
  const id = uuidv7()
  await insert('orders', {
    id,
    site_id: siteId,
    supplier_id: supplierId,
    number: id.slice(-8),
    due_on: '2026-04-15',
    reason: { json: {} },
    confirmed_by: yard.personId,
  })
  for (const [sizeId, quantity] of Object.entries(lines)) {
    await insert('order_lines', {
      id: uuidv7(),
      order_id: id,
      site_id: siteId,
      size_id: sizeId,
      quantity,
      fill_minor: 3200,
    })
  }
  return id
}

const codes = async (call: Promise<unknown>) => {
  const error = (await call.then(
    () => ({ reasons: [] }),
    (thrown) => thrown,
  )) as { reasons: { code: string; params: { row: number } }[] }
  return error.reasons.map((reason) => [reason.params.row, reason.code])
}

afterEach(() => testDatabase().setClock(0))

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  yard = await newViewer(siteId, 'yard_hand')
  watch = await newViewer(siteId, 'fire_watch')
  stranger = await newViewer(await newSite(), 'yard_hand')
  supplierId = await newSupplier()
})

describe('receiving a delivery', () => {
  test('makes unknown serials new cylinders, brings known ones back, and says how many', async () => {
    const known = await newCylinder('oxygen-244')
    const rows = [...fresh(2), { serial: known.serial }]
    expect(await receiveDelivery(yard, delivery(rows))).toMatchObject({ received: 3, short: [] })
    for (const { serial } of rows) {
      expect(
        await rowsOf('SELECT status, site_id FROM cylinders WHERE serial = $1', [serial]),
      ).toEqual([{ status: 'full', site_id: siteId }])
    }
  })

  test('against an order says what was short, and the order is delivered once', async () => {
    const orderId = await newOrder({ 'oxygen-244': 3, 'acetylene-225': 1 })
    expect((await deliveryChoices(yard, siteId)).orders.map((order) => order.id)).toContain(orderId)
    const result = await receiveDelivery(yard, delivery(fresh(2), { orderId }))
    expect(result.short).toEqual(
      expect.arrayContaining([
        { sizeId: 'oxygen-244', ordered: 3, got: 2 },
        { sizeId: 'acetylene-225', ordered: 1, got: 0 },
      ]),
    )
    expect(await rowsOf('SELECT state FROM orders WHERE id = $1', [orderId])).toEqual([
      { state: 'delivered' },
    ])
    expect((await deliveryChoices(yard, siteId)).orders.map((order) => order.id)).not.toContain(
      orderId,
    )
    await expect(receiveDelivery(yard, delivery(fresh(1), { orderId }))).rejects.toEqual(
      refusal('ORDER_NOT_OPEN'),
    )
  })

  test('names each row that cannot come, with every reason, and keeps nothing', async () => {
    const here = await cylinderAt(siteId, 'oxygen-244', yard)
    const [good] = fresh(1)
    const due = await newCylinder('oxygen-244', { dueMonth: '2020-03-01' })
    const late = await newCylinder('oxygen-244', { dueMonth: '2020-03-01' })
    const rows: TypedRow[] = [
      good!,
      { serial: here.serial },
      { serial: due.serial },
      { serial: late.serial, filledOn: '2020-04-01' },
      good!,
      { serial: 'AC-9', sizeId: 'oxygen-9999' },
      { serial: 'OX-FUTURE', filledOn: '2199-01-01' },
    ]
    expect(await codes(receiveDelivery(yard, delivery(rows)))).toEqual([
      [2, 'ROW_ON_SITE_ALREADY'],
      [3, 'ROW_PAST_DUE_FILL_UNKNOWN'],
      [4, 'ROW_PAST_DUE'],
      [5, 'ROW_TWICE'],
      [6, 'ROW_SIZE_UNKNOWN'],
      [7, 'ROW_FILLED_IN_FUTURE'],
    ])
    expect(await rowsOf('SELECT id FROM cylinders WHERE serial = $1', [good!.serial])).toEqual([])
  })

  test('holds the fill date to the site’s calendar, not to that of UTC', async () => {
    const nextMidnight = Math.ceil(Date.now() / DAY_MS) * DAY_MS
    const dayAt = (ms: number) => new Date(ms).toISOString().slice(0, 10)
    await testDatabase().setClock(nextMidnight + 3 * HOUR_MS - Date.now())
    const ofUtc = dayAt(nextMidnight)
    const late = fresh(1).map((row) => ({ ...row, filledOn: ofUtc })) // Chicago has the day before
    expect(await codes(receiveDelivery(yard, delivery(late)))).toEqual([
      [1, 'ROW_FILLED_IN_FUTURE'],
    ])

    await testDatabase().setClock(nextMidnight + 12 * HOUR_MS - Date.now())
    const ahead = await newSite('Pacific/Kiritimati') // 14 hours ahead: it is tomorrow there
    const early = fresh(1).map((row) => ({ ...row, filledOn: dayAt(nextMidnight + DAY_MS) }))
    const hand = await newViewer(ahead, 'yard_hand')
    await expect(receiveDelivery(hand, delivery(early, { siteId: ahead }))).resolves.toMatchObject({
      received: 1,
    })
  })

  test('takes a past due cylinder that was filled before its month was over', async () => {
    const due = await newCylinder('oxygen-244', { dueMonth: '2020-03-01' })
    await expect(
      receiveDelivery(yard, delivery([{ serial: due.serial, filledOn: '2020-03-31' }])),
    ).resolves.toMatchObject({ received: 1 })
  })

  test('takes a later month on the plate with the day of that test, and not without', async () => {
    const due = await newCylinder('oxygen-244', { dueMonth: '2020-03-01' })
    const row = { serial: due.serial, dueMonth: '2031-01' }
    expect(await codes(receiveDelivery(yard, delivery([row])))).toEqual([
      [1, 'ROW_TEST_DAY_MISSING'],
    ])
    await receiveDelivery(yard, delivery([{ ...row, requalifiedOn: '2026-01-10' }]))
    expect(
      await rowsOf(
        `SELECT to_char(due_month, 'YYYY-MM') AS due, status FROM cylinders WHERE id = $1`,
        [due.id],
      ),
    ).toEqual([{ due: '2031-01', status: 'full' }])
  })

  test('refuses another gas or more than was ordered, row by row', async () => {
    const orderId = await newOrder({ 'oxygen-244': 1 })
    const rows = [
      ...fresh(2),
      { serial: 'AC-77', sizeId: 'acetylene-225' },
      { serial: 'OX-330', sizeId: 'oxygen-330' },
    ]
    expect(await codes(receiveDelivery(yard, delivery(rows, { orderId })))).toEqual([
      [2, 'ROW_MORE_THAN_ORDERED'],
      [3, 'ROW_OTHER_GAS_THAN_ORDERED'],
      [4, 'ROW_OTHER_SIZE_THAN_ORDERED'],
    ])
    expect(await rowsOf('SELECT state FROM orders WHERE id = $1', [orderId])).toEqual([
      { state: 'confirmed' },
    ])
  })

  test('refuses a lost or scrapped cylinder and one that the record knows as another size', async () => {
    const [lost, other] = [
      await cylinderAt(siteId, 'oxygen-244', yard),
      await newCylinder('acetylene-225'),
    ]
    await event({
      cylinderId: lost.id,
      siteId,
      kind: 'lost',
      reason: 'Not found at count',
      by: yard,
    })
    expect(
      await codes(
        receiveDelivery(yard, delivery([{ serial: lost.serial }, { serial: other.serial }])),
      ),
    ).toEqual([
      [1, 'ROW_LOST'],
      [2, 'ROW_OTHER_SIZE_THAN_KNOWN'],
    ])
  })

  test('sent twice with one key is one delivery', async () => {
    const input = delivery(fresh(2))
    expect(await receiveDelivery(yard, input)).toEqual(await receiveDelivery(yard, input))
    expect(
      await rowsOf(
        `SELECT e.id FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id WHERE c.serial = $1`,
        [input.rows[0]!.serial],
      ),
    ).toHaveLength(1)
  })

  test('of one order by two people at once is received by one', async () => {
    const orderId = await newOrder({ 'oxygen-244': 1 })
    const settled = await Promise.allSettled(
      [1, 2].map(() => receiveDelivery(yard, delivery(fresh(1), { orderId }))),
    )
    expect(settled.map((result) => result.status).sort()).toEqual(['fulfilled', 'rejected'])
  })

  test('is refused to a fire watch, to another site, and for an order of another site', async () => {
    await expect(receiveDelivery(watch, delivery(fresh(1)))).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(receiveDelivery(stranger, delivery(fresh(1)))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    await expect(deliveryChoices(stranger, siteId)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(receiveDelivery(yard, delivery(fresh(1), { orderId: uuidv7() }))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    await expect(
      receiveDelivery(yard, { ...delivery(fresh(1)), supplierId: null }),
    ).rejects.toEqual(refusal('SUPPLIER_UNKNOWN'))
  })
})

describe('what is not as ordered', () => {
  const settle = (differenceId: string) =>
    ({ key: uuidv7(), differenceId, how: 'credited', note: null }) as const

  test('is written down row by row, held back or left on the truck, and settled once each', async () => {
    const orderId = await newOrder({ 'oxygen-244': 4 })
    const [good, dented, old] = fresh(3)
    const here = await cylinderAt(siteId, 'oxygen-244', yard)
    const result = await receiveDelivery(
      yard,
      delivery(
        [
          good!,
          { ...dented!, outcome: 'held_dent' },
          { ...old!, dueMonth: '2020-03', outcome: 'refused_overdue' },
          { serial: here.serial, outcome: 'refused_wrong' },
        ],
        { orderId },
      ),
    )
    expect(result).toMatchObject({ received: 2, differences: 4 })
    const seen = await getDelivery(yard, result.deliveryId)
    expect(seen.differences.map((row) => [row.kind, row.serial, row.quantity])).toEqual([
      ['damaged', dented!.serial, 1],
      ['refused_overdue', old!.serial, 1],
      ['refused_wrong', here.serial, 1],
      ['short', null, 2],
    ])
    expect(seen.cylinders.map((row) => [row.serial, row.status]).sort()).toEqual(
      [
        [good!.serial, 'full'],
        [dented!.serial, 'quarantined'],
      ].sort(),
    )
    // What stayed on the truck made no cylinder of ours.
    expect(await rowsOf('SELECT id FROM cylinders WHERE serial = $1', [old!.serial])).toEqual([])
    const [first] = seen.differences
    await settleDifference(yard, settle(first!.id))
    await expect(settleDifference(yard, settle(first!.id))).rejects.toEqual(
      refusal('ALREADY_SETTLED'),
    )
    const after = await getDelivery(yard, result.deliveryId)
    expect(after.differences.map((row) => row.settled?.how ?? null)).toEqual([
      'credited',
      null,
      null,
      null,
    ])
    await expect(settleDifference(watch, settle(seen.differences[1]!.id))).rejects.toEqual(
      refusal('FORBIDDEN'),
    )
    await expect(settleDifference(stranger, settle(seen.differences[1]!.id))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    const heads = await listDeliveries(yard, siteId)
    expect(heads.find((row) => row.id === result.deliveryId)).toMatchObject({ open: 3 })
    expect(heads[0]?.open).toBeGreaterThan(0) // what is to be settled comes first
    await expect(getDelivery(stranger, result.deliveryId)).rejects.toEqual(refusal('NOT_FOUND'))
  })

  test('as an impure batch is all held back, and no other batch with it', async () => {
    const rows = fresh(3).map((row, i) => ({ ...row, batch: i < 2 ? 'L-88' : 'L-89' }))
    const { deliveryId } = await receiveDelivery(yard, delivery(rows))
    const input = { key: uuidv7(), deliveryId, batch: 'L-88', reason: 'Oily smell' }
    expect(await holdBatch(yard, input)).toEqual({ deliveryId, held: 2, onOutfits: [] })
    expect(await holdBatch(yard, input)).toEqual({ deliveryId, held: 2, onOutfits: [] })
    const seen = await getDelivery(yard, deliveryId)
    expect(seen.cylinders.map((row) => [row.batch, row.status]).sort()).toEqual([
      ['L-88', 'quarantined'],
      ['L-88', 'quarantined'],
      ['L-89', 'full'],
    ])
    expect(seen.differences).toMatchObject([{ kind: 'impure', batch: 'L-88', quantity: 2 }])
    await expect(holdBatch(watch, { ...input, key: uuidv7() })).rejects.toEqual(
      refusal('FORBIDDEN'),
    )
    await expect(holdBatch(yard, { ...input, key: uuidv7(), batch: 'L-1' })).rejects.toEqual(
      refusal('BATCH_UNKNOWN'),
    )
  })
})

describe('a supplier’s invoice', () => {
  test('is checked against what came and what was agreed, by who confirms orders there', async () => {
    const manager = await newViewer(siteId, 'shop_manager')
    const orderId = await newOrder({ 'oxygen-244': 3 }) // 32.00 a fill
    await insert('supply_agreements', {
      id: uuidv7(),
      site_id: siteId,
      supplier_id: supplierId,
      lead_days: 2,
      delivery_days: [1],
      delivery_fee_minor: 3_500,
      breaks: { json: [{ from: 3, offMinor: 200 }] },
      valid_from: '2020-01-01',
      person_id: manager.personId,
      role_then: 'shop_manager',
    })
    const [first, second, third, bad] = fresh(4)
    const { deliveryId } = await receiveDelivery(
      yard,
      delivery([first!, second!, third!, { ...bad!, outcome: 'refused_damaged' }], { orderId }),
    )
    const check = (viewer: Viewer, invoice: string) =>
      checkDeliveryInvoice(viewer, invoiceSchema.parse({ deliveryId, invoice }))
    // Three came, each 2.00 less from three on.
    const right = await check(manager, 'Oxygen 244;3;90.00\nDelivery;1;35.00')
    expect(right).toMatchObject({ disputeMinor: 0, oursMinor: 12_500, currency: 'USD' })
    const wrong = await check(
      manager,
      `${first?.serial};32.00\n${bad?.serial};30.00\nOX-NEVER-1;30.00\nDelivery;45.00`,
    )
    expect(wrong.rows.map((row) => [row.faults, row.disputeMinor])).toEqual([
      [['price_differs'], 200],
      [['sent_back'], 3_000],
      [['not_delivered'], 3_000],
      [['fee_differs'], 1_000],
    ])
    expect(wrong.unasked).toMatchObject([{ sizeId: 'oxygen-244', count: 2 }])
    await expect(check(yard, 'Delivery;1')).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(check(stranger, 'Delivery;1')).rejects.toEqual(refusal('NOT_FOUND'))
  })
})

import { v7 as uuidv7 } from 'uuid'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { getOrders } from '@/lib/data/orders'
import { readPlanFacts } from '@/lib/data/plan/problem'
import { planAskOf } from '@/lib/schemas/plan'
import {
  cylinderAt,
  insert,
  newSite,
  newSupplier,
  newViewer,
  rowsOf,
  setCompany,
} from './gas-world'

const DAY_MS = 86_400_000
const day = (days: number) => new Date(Date.now() + days * DAY_MS).toISOString().slice(0, 10)
const POUND_KG = 0.453_592_37

let siteId: string
let viewer: Viewer
let supplierId: string

beforeAll(setCompany)

beforeEach(async () => {
  siteId = await newSite('UTC')
  viewer = await newViewer(siteId, 'shop_manager')
  supplierId = await newSupplier()
  await cylinderAt(siteId, 'oxygen-244', viewer)
})

const facts = (ask: Record<string, string> = {}) => readPlanFacts([siteId], planAskOf(ask))
const agree = (more: object = {}) =>
  insert('supply_agreements', {
    id: uuidv7(),
    site_id: siteId,
    supplier_id: supplierId,
    lead_days: 4,
    delivery_days: [1, 2, 3, 4, 5, 6, 7],
    least_cylinders: 3,
    most_cylinders: 20,
    delivery_fee_minor: 7700,
    breaks: { json: [{ from: 10, offMinor: 250 }] },
    valid_from: day(-5),
    person_id: viewer.personId,
    role_then: 'shop_manager',
    ...more,
  })

describe('what a plan rests on', () => {
  test('lead time, days, least, most, fee and breaks are those that site and supplier agreed on', async () => {
    const before = (await facts()).problem.suppliers.find((one) => one.supplierId === supplierId)
    expect(before).toMatchObject({ least: 1, breaks: [] })
    await agree()
    const { problem } = await facts()
    const agreed = problem.suppliers.find((one) => one.supplierId === supplierId)
    expect(agreed).toMatchObject({
      fee: 7700,
      least: 3,
      most: 20,
      breaks: [{ from: 10, off: 250 }],
    })
    expect(Math.min(...(agreed?.days ?? []))).toBeGreaterThanOrEqual(4)
    // The order screen goes by the same.
    const offered = (await getOrders(viewer, siteId)).suppliers.find((one) => one.id === supplierId)
    expect(offered).toMatchObject({ leadDays: 4, deliveryFeeMinor: 7700 })
  })

  test('a later agreement takes over, one that is not valid yet does not', async () => {
    await agree()
    await agree({ delivery_fee_minor: 1000, valid_from: day(-1) })
    await agree({ delivery_fee_minor: 9000, valid_from: day(20) })
    const { problem } = await facts()
    expect(problem.suppliers.find((one) => one.supplierId === supplierId)?.fee).toBe(1000)
  })

  // IFC 2018 Table 5003.1.1(3): 6,000 ft³ of oxidizing gas outdoors.
  test('no more may stand there than the site’s texts allow, by cubic feet', async () => {
    expect((await facts()).problem.storage).toEqual([])
    await insert('site_rulesets', { id: uuidv7(), site_id: siteId, ruleset_id: 'us-ifc-2018' })
    const [oxygen] = (await facts()).problem.storage
    expect(oxygen?.gasIds).toEqual(['oxygen'])
    expect(oxygen?.most).toBeCloseTo(6000, 2)
    expect(oxygen?.eachOf?.['oxygen-244']).toBeCloseTo(244, 0)
  })

  test('rent and demurrage are those that were agreed on', async () => {
    await insert('rent_terms', {
      id: uuidv7(),
      site_id: siteId,
      supplier_id: supplierId,
      size_id: 'oxygen-244',
      free_days: 7,
      rent_minor_per_day: 41,
      demurrage_from_day: 6,
      demurrage_minor_per_day: 82,
      deposit_minor: 0,
      valid_from: day(-1),
      person_id: viewer.personId,
      role_then: 'shop_manager',
    })
    const [cell] = (await facts()).problem.cells
    expect(cell).toMatchObject({ rentPerDay: 41, demurragePerDay: 82, demurrageFromDay: 6 })
  })

  test('a truck that carries more goes past materials of trade only with somebody trained', async () => {
    expect((await facts()).problem.fleet.driverHours.every((hours) => hours === 0)).toBe(true)
    await insert('vehicles', {
      id: uuidv7(),
      site_id: siteId,
      name: 'Flatbed',
      plate: uuidv7().slice(-8),
      body: 'open_bed',
      payload_kg: 900,
    })
    const alone = (await facts()).problem.fleet
    expect(alone.tradeKg).toBeCloseTo(440 * POUND_KG, 6)
    expect(alone).toMatchObject({ papersKg: 900, trainedHours: new Array(14).fill(0) })
    expect(alone.driverHours[0]).toBe(8)
    await insert('qualifications', {
      id: uuidv7(),
      person_id: viewer.personId,
      kind: 'hazmat_driver',
      valid_from: day(-30),
      valid_until: day(1),
      evidence: 'Course',
    })
    const { trainedHours } = (await facts()).problem.fleet
    expect(trainedHours.slice(0, 3)).toEqual([8, 8, 0])
  })

  test('the cylinders that planned work needs side by side must be there on its days', async () => {
    const jobId = uuidv7()
    const cutListId = uuidv7()
    await insert('jobs', {
      id: jobId,
      site_id: siteId,
      number: jobId.slice(-8),
      title: 'Columns',
      planned_start: day(2),
      planned_end: day(4),
      state: 'planned',
      created_by: viewer.personId,
    })
    await insert('cut_lists', {
      id: cutListId,
      site_id: siteId,
      job_id: jobId,
      title: 'Cuts',
      fuel: 'acetylene',
      process: 'hand',
    })
    await insert('estimates', {
      id: uuidv7(),
      site_id: siteId,
      job_id: jobId,
      cut_list_id: cutListId,
      reason: 'kept',
      calc_version: 'test',
      inputs: { json: {} },
      result: { json: { cuts: [], withdrawal: { ok: true, cylindersOnManifold: 3 } } },
      sources: { json: [] },
      oxygen_kg: 10,
      oxygen_u_kg: 1,
      fuel: 'acetylene',
      fuel_kg: 3,
      fuel_u_kg: 0.3,
      kept_by: viewer.personId,
    })
    const [need] = (await facts()).problem.manifolds
    expect(need).toMatchObject({ siteId, gasId: 'acetylene' })
    expect(need?.least.slice(0, 6)).toEqual([0, 0, 3, 3, 3, 0])
  })

  test('every size that stands there is planned for itself', async () => {
    await cylinderAt(siteId, 'oxygen-244', viewer)
    await cylinderAt(siteId, 'oxygen-122', viewer)
    const { problem } = await facts()
    const full = problem.cells.map((cell) => [cell.sizeId, cell.full])
    expect(Object.fromEntries(full)).toEqual({ 'oxygen-244': 2, 'oxygen-122': 1 })
  })

  test('an order that is under way comes later when suppliers are late', async () => {
    const orderId = uuidv7()
    await insert('orders', {
      id: orderId,
      site_id: siteId,
      supplier_id: supplierId,
      number: orderId.slice(-8),
      due_on: day(2),
      reason: { json: {} },
      confirmed_by: viewer.personId,
    })
    await insert('order_lines', {
      id: uuidv7(),
      order_id: orderId,
      site_id: siteId,
      size_id: 'oxygen-244',
      quantity: 5,
      fill_minor: 4400,
    })
    expect((await facts()).problem.cells[0]?.fixedIn.slice(0, 6)).toEqual([0, 0, 5, 0, 0, 0])
    const late = await facts({ late: '2' })
    expect(late.problem.cells[0]?.fixedIn.slice(0, 6)).toEqual([0, 0, 0, 0, 5, 0])
    expect(await rowsOf('SELECT id FROM orders WHERE id = $1', [orderId])).toHaveLength(1)
  })
})

import { v7 as uuidv7 } from 'uuid'
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { forecastSites } from '@/lib/data/forecast'
import { testDatabase } from '../setup/database'
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
const day = (days: number, nowMs = Date.now()) =>
  new Date(nowMs + days * DAY_MS).toISOString().slice(0, 10)

let siteId: string
let viewer: Viewer

beforeAll(setCompany)

beforeEach(async () => {
  siteId = await newSite()
  viewer = await newViewer(siteId, 'shop_manager')
  await cylinderAt(siteId, 'oxygen-244', viewer)
})

afterEach(() => testDatabase().setClock(0))

type Plan = Readonly<{ start?: string; end?: string; state?: string; counts?: readonly number[] }>

/** A job with a list of cuts; estimates are kept beside it. */
async function newJob({ start = day(1), end = day(3), state = 'planned', counts = [4] }: Plan) {
  const jobId = uuidv7()
  const cutListId = uuidv7()
  await insert('jobs', {
    id: jobId,
    site_id: siteId,
    number: jobId.slice(-8),
    title: 'Columns',
    planned_start: start,
    planned_end: end,
    state,
    created_by: viewer.personId,
  })
  await insert('cut_lists', {
    id: cutListId,
    site_id: siteId,
    job_id: jobId,
    title: 'Cuts',
    fuel: 'propane',
    process: 'hand',
  })
  const cutIds = counts.map(() => uuidv7())
  await insert(
    'cuts',
    ...counts.map((count, index) => ({
      id: cutIds[index] ?? '',
      site_id: siteId,
      cut_list_id: cutListId,
      ordinal: index + 1,
      title: 'Plate',
      material: 'carbon_steel',
      shape: 'plate',
      dims: { json: { shape: { kind: 'plate', thicknessM: 0.025, lengthM: 2 } } },
      count,
    })),
  )
  return { jobId, cutListId, cutIds }
}

type Job = Awaited<ReturnType<typeof newJob>>
type KeptCut = Readonly<{ remaining: number; kg: number }>

/** An estimate as it is kept: what each cut took of what was left then. */
async function keep(job: Job, cuts: readonly KeptCut[], keptAt = new Date()) {
  const oxygenKg = cuts.reduce((sum, cut) => sum + cut.kg, 0)
  await insert('estimates', {
    id: uuidv7(),
    site_id: siteId,
    job_id: job.jobId,
    cut_list_id: job.cutListId,
    reason: 'kept',
    calc_version: 'test',
    inputs: { json: {} },
    result: {
      json: {
        cuts: cuts.map((cut, index) => ({
          cutId: job.cutIds[index] ?? '',
          remainingCount: cut.remaining,
          oxygenKg: { value: cut.kg },
        })),
      },
    },
    sources: { json: [] },
    oxygen_kg: oxygenKg,
    oxygen_u_kg: oxygenKg / 10,
    fuel: 'propane',
    fuel_kg: 1,
    fuel_u_kg: 0.1,
    kept_by: viewer.personId,
    kept_at: keptAt.toISOString(),
  })
}

const oxygen = async () =>
  (await forecastSites([siteId])).find((gas) => gas.gasId === 'oxygen') ?? expect.fail('no oxygen')

describe('what planned work still takes', () => {
  test('is the last estimate, not the first', async () => {
    const job = await newJob({})
    await keep(job, [{ remaining: 4, kg: 90 }], new Date(Date.now() - DAY_MS))
    const first = (await oxygen()).plannedCylinders
    await keep(job, [{ remaining: 4, kg: 30 }])
    expect((await oxygen()).plannedCylinders).toBeCloseTo(first / 3, 6)
  })

  test('falls by the cuts that are done, each by its own gas', async () => {
    const job = await newJob({ state: 'running', counts: [2, 10] })
    await keep(job, [
      { remaining: 2, kg: 30 },
      { remaining: 10, kg: 10 },
    ])
    const before = (await oxygen()).plannedCylinders
    await rowsOf('UPDATE cuts SET done_count = 2 WHERE id = $1', [job.cutIds[0]])
    expect((await oxygen()).plannedCylinders).toBeCloseTo(before / 4, 6)
    await rowsOf('UPDATE cuts SET done_count = 5 WHERE id = $1', [job.cutIds[1]])
    expect((await oxygen()).plannedCylinders).toBeCloseTo(before / 8, 6)
  })

  test('does not take off twice what was done before the estimate was kept', async () => {
    const untouched = await newJob({ counts: [4] })
    await keep(untouched, [{ remaining: 4, kg: 40 }])
    const whole = (await oxygen()).plannedCylinders
    await rowsOf("UPDATE jobs SET state = 'dropped' WHERE id = $1", [untouched.jobId])
    const begun = await newJob({ state: 'running', counts: [10] })
    await rowsOf('UPDATE cuts SET done_count = 6 WHERE id = $1', [begun.cutIds[0]])
    await keep(begun, [{ remaining: 4, kg: 40 }])
    expect((await oxygen()).plannedCylinders).toBeCloseTo(whole, 6)
  })

  test('leaves out a job that was dropped or is done', async () => {
    for (const state of ['dropped', 'done'])
      await keep(await newJob({ state }), [{ remaining: 4, kg: 90 }])
    expect(await oxygen()).toMatchObject({ plannedCylinders: 0, lastPlannedDay: null })
  })

  test('falls on the day of the site’s calendar, not of UTC', async () => {
    const nextMidnight = Math.ceil(Date.now() / DAY_MS) * DAY_MS
    const threeInTheMorningMs = nextMidnight + 3 * 3_600_000 // Chicago still has the day before
    await testDatabase().setClock(threeInTheMorningMs - Date.now())
    const tomorrow = day(0, threeInTheMorningMs)
    await keep(await newJob({ start: tomorrow, end: tomorrow }), [{ remaining: 4, kg: 9 }])
    expect((await oxygen()).lastPlannedDay).toBe(2)
  })
})

describe('what is on its way', () => {
  const order = async (sizeId: string, dueOn: string) => {
    const id = uuidv7()
    await insert('orders', {
      id,
      site_id: siteId,
      supplier_id: await newSupplier(),
      number: id.slice(-8),
      due_on: dueOn,
      reason: { json: {} },
      confirmed_by: viewer.personId,
    })
    await insert('order_lines', {
      id: uuidv7(),
      order_id: id,
      site_id: siteId,
      size_id: sizeId,
      quantity: 2,
      fill_minor: 1000,
    })
    return id
  }

  test('counts in cylinders of the size that the site has most of', async () => {
    await order('oxygen-122', day(3))
    const [half] = (await oxygen()).arrivals
    expect(half?.cylinders).toBeGreaterThan(0.9)
    expect(half?.cylinders).toBeLessThan(1.1)
  })

  test('is no longer counted once it came or was taken back', async () => {
    for (const state of ['delivered', 'cancelled']) {
      const id = await order('oxygen-244', day(3))
      expect((await oxygen()).arrivals).toHaveLength(1)
      await rowsOf('UPDATE orders SET state = $2 WHERE id = $1', [id, state])
      expect((await oxygen()).arrivals).toEqual([])
    }
  })
})

describe('what to order', () => {
  test('covers the days until the truck and from then until the next one', async () => {
    await keep(await newJob({ start: day(0), end: day(13) }), [{ remaining: 4, kg: 90 }])
    const [soon] = await forecastSites([siteId], { leadDays: 1, reviewDays: 3 })
    const [late] = await forecastSites([siteId], { leadDays: 5, reviewDays: 7 })
    expect(soon?.forecast.orderUpTo.overDays).toBe(4)
    expect(late?.forecast.orderUpTo.overDays).toBe(12)
    expect(late?.forecast.orderUpTo.level).toBeGreaterThan(soon?.forecast.orderUpTo.level ?? 99)
  })
})

import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { forecastSites } from '@/lib/data/forecast'
import { learnDemandOfSites, learnDemandWhenDue } from '@/lib/data/learned-demand'
import { getAccuracy } from '@/lib/data/plan/accuracy'
import { cylinderAt, insert, newSite, newViewer, rowsOf, setCompany } from './gas-world'

const DAY_MS = 86_400_000
const ago = (days: number) => new Date(Date.now() - days * DAY_MS).toISOString().slice(0, 10)

let viewer: Viewer

/** A site that empties so many cylinders on every so manieth day, for ninety days. */
async function usingSite(every: number, cylinders: number) {
  const siteId = await newSite()
  viewer = await newViewer(siteId, 'shop_manager')
  await cylinderAt(siteId, 'oxygen-244', viewer)
  const days = Array.from({ length: 90 }, (_, i) => i + 1).filter((day) => day % every === 0)
  await insert(
    'emptied_days',
    ...days.map((day) => ({ site_id: siteId, day: ago(day), gas_id: 'oxygen', cylinders })),
  )
  return siteId
}

const oxygenOf = async (siteId: string) =>
  (await forecastSites([siteId])).find((gas) => gas.gasId === 'oxygen') ?? expect.fail('no oxygen')

beforeAll(setCompany)

describe('how demand is forecast', () => {
  test('is by each series’ own rate until something was learned', async () => {
    const siteId = await usingSite(2, 1)
    expect(await rowsOf('SELECT id FROM learned_demand')).toEqual([])
    const { learned } = await oxygenOf(siteId)
    expect(learned).toMatchObject({ method: 'rate', score: null, judged: null })
  })

  test('is then by the method of its class, with what past weeks say of it', async () => {
    for (const [every, cylinders] of [
      [1, 1],
      [2, 2],
      [3, 1],
      [4, 3],
    ] as const)
      await usingSite(every, cylinders)
    const siteId = await usingSite(5, 2)
    await learnDemandOfSites()
    const { learned, forecast } = await oxygenOf(siteId)
    expect(learned.demandClass).toBe('intermittent')
    expect(learned.method).not.toBe('zero')
    expect(learned.score).not.toBeNull()
    expect(learned.judged?.held.share).toBeGreaterThan(0.8)
    // Two cylinders every fifth day, whatever the method: 2.8 a week.
    const week = forecast.days[6]
    expect(week?.demandMean).toBeGreaterThan(1.9)
    expect(week?.demandMean).toBeLessThan(3.9)
  })

  test('of a site that is new starts from sites like it, not from nothing', async () => {
    const siteId = await newSite()
    const manager = await newViewer(siteId, 'shop_manager')
    await cylinderAt(siteId, 'oxygen-244', manager)
    await learnDemandOfSites()
    const { learned, forecast } = await oxygenOf(siteId)
    expect(learned).toMatchObject({ demandClass: 'sparse', method: 'rate' })
    expect(learned.startsFrom).toBeGreaterThanOrEqual(3)
    // The weak default is 0.05 a day; the sites above use from a third of a cylinder to one a day.
    expect(forecast.baseline.meanPerDay).toBeGreaterThan(0.2)
  })

  test('is not learned again within hours, and learning again changes nothing that was learned', async () => {
    const count = async () => (await rowsOf('SELECT id FROM learned_demand')).length
    const before = await count()
    await learnDemandWhenDue()
    expect(await count()).toBe(before)
    await learnDemandOfSites()
    expect(await count()).toBe(before + 1)
  })

  test('is judged on the page by all that came, site by site', async () => {
    const { tested, weeks } = await getAccuracy(viewer)
    expect(weeks).toBe(12)
    expect(tested?.rows.map((row) => row.method)).toContain('chosen')
  })
})

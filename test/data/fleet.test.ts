import pg from 'pg'
import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test, vi } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { type Fleet, getFleet } from '@/lib/data/fleet'
import { buildOpenPermit, buildWatchPermit } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { cylinderAt, insert, newSite, newViewer } from './gas-world'

let manager: Viewer
let quietSite: string
let open: Awaited<ReturnType<typeof buildOpenPermit>>
let watched: Awaited<ReturnType<typeof buildWatchPermit>>

const siteIn = (fleet: Fleet, siteId: string) => fleet.sites.find((one) => one.site.id === siteId)

/** A manager of all these sites. */
async function managerOf(...siteIds: string[]): Promise<Viewer> {
  const [first = '', ...others] = siteIds
  const viewer = await newViewer(first, 'shop_manager')
  return {
    ...viewer,
    grants: [first, ...others].map((siteId) => ({ siteId, role: 'shop_manager' as const })),
  }
}

/** Statements that the app sends while `fn` runs. */
async function countQueries(fn: () => Promise<unknown>): Promise<number> {
  const sent = vi.spyOn(pg.Client.prototype, 'query')
  await fn()
  const count = sent.mock.calls.length
  sent.mockRestore()
  return count
}

beforeAll(async () => {
  open = await buildOpenPermit(testDatabase().owner)
  watched = await buildWatchPermit(testDatabase().owner)
  quietSite = await newSite()
  manager = await managerOf(quietSite, open.site.id, watched.site.id)
  await cylinderAt(quietSite, 'propane-100', manager)
})

describe('all sites', () => {
  test('shows each of the viewer’s sites with its permits, its gas and who keeps it', async () => {
    const fleet = await getFleet(manager)
    expect(fleet.sites.map((one) => one.site.id).sort()).toEqual(
      [quietSite, open.site.id, watched.site.id].sort(),
    )
    const busy = siteIn(fleet, open.site.id)
    expect(busy?.permits.map((row) => [row.id, row.state])).toEqual([[open.permit.id, 'open']])
    expect(busy?.gases.map((gas) => gas.gasId)).toEqual(['oxygen', 'acetylene'])
    expect(busy?.keeperName).toBe(open.team.foreman.name)
    expect(busy?.mayOrder).toBe(true)
    expect(siteIn(fleet, watched.site.id)?.permits[0]).toMatchObject({
      state: 'watch',
      watch: { isDone: false },
    })
  })

  test('counts full and part cylinders, and says nothing of gas that nobody uses', async () => {
    const propane = siteIn(await getFleet(manager), quietSite)?.gases
    expect(propane).toHaveLength(1)
    expect(propane?.[0]).toMatchObject({ gasId: 'propane', full: 1, part: 0 })
    expect(propane?.[0]?.forecast.daysUntilShort).toBeNull()
  })

  test('puts a site that is short first, and says so', async () => {
    const short = await newSite()
    const viewer = await managerOf(quietSite, open.site.id, short)
    await cylinderAt(short, 'oxygen-244', viewer)
    const jobId = uuidv7()
    const today = new Date().toISOString().slice(0, 10)
    await insert('jobs', {
      id: jobId,
      site_id: short,
      number: jobId.slice(-8),
      title: 'Beams',
      planned_start: today,
      planned_end: today,
      state: 'planned',
      created_by: viewer.personId,
    })
    const listId = uuidv7()
    await insert('cut_lists', {
      id: listId,
      site_id: short,
      job_id: jobId,
      title: 'Cuts',
      fuel: 'propane',
      process: 'hand',
    })
    await insert('cuts', {
      id: uuidv7(),
      site_id: short,
      cut_list_id: listId,
      ordinal: 1,
      title: 'Plate',
      material: 'carbon_steel',
      shape: 'plate',
      dims: { json: { shape: { kind: 'plate', thicknessM: 0.025, lengthM: 2 } } },
      count: 4,
    })
    await insert('estimates', {
      id: uuidv7(),
      site_id: short,
      job_id: jobId,
      cut_list_id: listId,
      reason: 'kept',
      calc_version: 'test',
      inputs: { json: {} },
      result: { json: { cuts: [] } },
      sources: { json: [] },
      oxygen_kg: 60,
      oxygen_u_kg: 6,
      fuel: 'propane',
      fuel_kg: 4,
      fuel_u_kg: 1,
      kept_by: viewer.personId,
    })
    const fleet = await getFleet(viewer)
    expect(fleet.sites[0]?.site.id).toBe(short)
    expect(fleet.troubles[0]).toMatchObject({ kind: 'short', gasId: 'oxygen' })
    // Gas that the plan burns and nobody has brought is a row as well.
    expect(siteIn(fleet, short)?.gases.map((gas) => gas.gasId)).toEqual(['oxygen', 'propane'])
  })

  test('shows nothing of a site on which the viewer holds nothing, and no permits to a yard hand', async () => {
    const yard = await newViewer(open.site.id, 'yard_hand')
    const fleet = await getFleet(yard)
    expect(fleet.sites.map((one) => one.site.id)).toEqual([open.site.id])
    expect(fleet.sites[0]?.permits).toEqual([])
    expect(fleet.sites[0]?.gases.length).toBeGreaterThan(0)
  })

  test('asks as many questions for three sites as for one, and at most twelve', async () => {
    const one = await managerOf(open.site.id)
    const few = await countQueries(() => getFleet(one))
    const many = await countQueries(() => getFleet(manager))
    expect(few).toBeGreaterThan(0)
    expect(many).toBe(few)
    expect(many).toBeLessThanOrEqual(9) // twelve a page, less the session's two and the company
  })
})

import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { getJobCost, getSiteCost, monthOf } from '@/lib/data/costs'
import { getRent, saveRentTerms } from '@/lib/data/rent'
import { rentTermsSchema } from '@/lib/schemas/rent'
import { buildOpenPermit, buildWorksite } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import {
  event,
  insert,
  newSite,
  newSupplier,
  newViewer,
  refusal,
  rowsOf,
  setCompany,
} from './gas-world'

const APRIL = monthOf('2026-04')
let siteId: string
let manager: Viewer
let yard: Viewer
let supplierId: string

beforeAll(setCompany)

async function start(): Promise<void> {
  siteId = await newSite()
  manager = await newViewer(siteId, 'shop_manager')
  yard = await newViewer(siteId, 'yard_hand')
  supplierId = await newSupplier()
  await saveRentTerms(
    manager,
    rentTermsSchema.parse({
      key: uuidv7(),
      siteId,
      supplierId,
      sizeId: 'oxygen-244',
      freeDays: '10',
      rentPerDay: '0.25',
      demurrageFromDay: '91',
      demurragePerDay: '0.60',
      deposit: '180',
      validFrom: '2026-01-01',
    }),
  )
}
const rented = async (from: string) => {
  const id = uuidv7()
  const serial = `RC-${id.slice(-8).toUpperCase()}`
  await insert('cylinders', {
    id,
    serial,
    gas_id: 'oxygen',
    size_id: 'oxygen-244',
    spec: 'DOT 3AA',
    supplier_id: supplierId,
  })
  await tell(id, 'received', from)
  return id
}
const tell = (cylinderId: string, kind: string, day: string, over: object = {}) =>
  event({ cylinderId, siteId, by: yard, kind, at: `${day}T15:00:00Z`, ...over })

describe('what a site’s cylinders cost in a month', () => {
  test('is rent and demurrage by the agreement, and deposits of the lost, which come back with the found', async () => {
    await start()
    await rented('2026-04-01') // 10 days free, 20 at 0.25
    await rented('2026-01-16') // day 91 is 16 April: 15 at 0.25, 15 at 0.60
    const lost = await rented('2026-04-21') // free all April
    await tell(lost, 'lost', '2026-04-25', { reason: 'Not at the count' })
    const cost = await getSiteCost(manager, siteId, APRIL)
    expect(cost.cost).toMatchObject({
      rentMinor: 20 * 25 + 15 * 25,
      demurrageMinor: 15 * 60,
      lostMinor: 18_000,
      unknown: { rentDays: 0, gasKg: 0, lost: 0 },
    })
    // Two stand there still.
    expect(cost.deposits).toEqual({ cylinders: 2, minor: 36_000, withoutTerms: 0 })
    await tell(lost, 'found', '2026-04-28')
    const again = await getSiteCost(manager, siteId, APRIL)
    expect(again.cost.lostMinor).toBe(0)
    expect(again.deposits.cylinders).toBe(3)
    expect((await getSiteCost(manager, siteId, monthOf('2026-03'))).cost).toMatchObject({
      rentMinor: 31 * 25,
      lostMinor: 0,
    })
  })

  test('runs the supplier’s days on from one site to the next', async () => {
    await start()
    const id = await rented('2026-01-16')
    const [home, away] = [siteId, await newSite()]
    await event({
      cylinderId: id,
      siteId: home,
      by: yard,
      kind: 'moved',
      to_site_id: away,
      at: '2026-04-20T15:00:00Z',
    })
    const here = await newViewer(away, 'shop_manager')
    await insert('rent_terms', {
      id: uuidv7(),
      site_id: away,
      supplier_id: supplierId,
      size_id: 'oxygen-244',
      free_days: 10,
      rent_minor_per_day: 25,
      demurrage_from_day: 91,
      demurrage_minor_per_day: 60,
      deposit_minor: 18_000,
      valid_from: '2026-01-01',
      person_id: here.personId,
      role_then: 'shop_manager',
    })
    // 20 to 30 April, all past day 91: none of it free again.
    expect((await getSiteCost(here, away, APRIL)).cost).toMatchObject({
      rentMinor: 0,
      demurrageMinor: 11 * 60,
    })
    // 1 to 15 April at 25 and 16 to 19 at 60: the day of the transfer is the other site's.
    expect((await getSiteCost(manager, home, APRIL)).cost).toMatchObject({
      rentMinor: 15 * 25,
      demurrageMinor: 4 * 60,
    })
  })

  test('prices each day by the terms of that day, a lost one by those of the day it was lost', async () => {
    await start()
    await rented('2026-04-01') // 10 days free, 10 at 0.25, 10 at 0.40
    const lost = await rented('2026-04-12')
    await tell(lost, 'lost', '2026-04-15', { reason: 'Not at the count' })
    await saveRentTerms(
      manager,
      rentTermsSchema.parse({
        key: uuidv7(),
        siteId,
        supplierId,
        sizeId: 'oxygen-244',
        freeDays: '10',
        rentPerDay: '0.40',
        deposit: '250',
        validFrom: '2026-04-21',
      }),
    )
    const { cost, deposits } = await getSiteCost(manager, siteId, APRIL)
    expect(cost).toMatchObject({ rentMinor: 10 * 25 + 10 * 40, lostMinor: 18_000 })
    expect(deposits).toMatchObject({ cylinders: 1, minor: 25_000 })
    const view = await getRent(manager, siteId, new Date('2026-04-01'))
    expect(view.bySupplier).toMatchObject([{ amountMinor: 650, unknown: 0 }])
    expect(view.terms.map((row) => row.rentMinorPerDay)).toEqual([25, 40])
    expect((await getRent(manager, siteId, new Date('2026-05-01'))).terms).toHaveLength(1)
  })

  test('counts what no agreement speaks for, and takes it for nothing', async () => {
    await start()
    const id = uuidv7()
    await insert('cylinders', {
      id,
      serial: `RC-${id.slice(-8).toUpperCase()}`,
      gas_id: 'acetylene',
      size_id: 'acetylene-225',
      spec: 'DOT 8',
      supplier_id: supplierId,
    })
    await tell(id, 'received', '2026-04-21')
    const cost = await getSiteCost(manager, siteId, APRIL)
    expect(cost.cost).toMatchObject({ totalMinor: 0, unknown: { rentDays: 10 } })
    expect(cost.deposits).toEqual({ cylinders: 0, minor: 0, withoutTerms: 1 })
  })

  test('is for who reads orders there', async () => {
    await start()
    const watch = await newViewer(siteId, 'fire_watch')
    await expect(getSiteCost(watch, siteId, APRIL)).rejects.toEqual(refusal('FORBIDDEN'))
    const stranger = await newViewer(await newSite(), 'shop_manager')
    await expect(getSiteCost(stranger, siteId, APRIL)).rejects.toEqual(refusal('NOT_FOUND'))
  })
})

describe('what a job has cost so far', () => {
  test('is what its outfit’s cylinders drew, at the price of the day', async () => {
    const worksite = await buildWorksite(testDatabase().owner)
    const { site, team, job, outfit } = worksite
    await buildOpenPermit(testDatabase().owner, { worksite })
    const [oxygen] = await rowsOf<{ contents_kg: number }>(
      'SELECT contents_kg FROM cylinders WHERE id = $1',
      [outfit.oxygen.id],
    )
    await insert('cylinder_events', {
      id: uuidv7(),
      cylinder_id: outfit.oxygen.id,
      site_id: site.id,
      outfit_id: outfit.id,
      job_id: job.id,
      kind: 'read',
      contents_kg: (oxygen?.contents_kg ?? 0) - 2,
      contents_u_kg: 0.1,
      person_id: team.foreman.id,
      role_then: 'foreman',
    })
    const foreman: Viewer = {
      personId: team.foreman.id,
      name: '',
      grants: [{ siteId: site.id, role: 'foreman' }],
      roles: ['foreman'],
      units: 'us',
      clock: '24',
      theme: 'device',
    }
    const [price] = await rowsOf<{ per_kg: number }>(
      `SELECT min(p.fill_minor) / z.nominal_kg AS per_kg FROM prices p JOIN cylinder_sizes z ON z.id = p.size_id
       JOIN cylinders c ON c.size_id = z.id WHERE c.id = $1 GROUP BY z.nominal_kg`,
      [outfit.oxygen.id],
    )
    const found = await getJobCost(foreman, job.id)
    expect(found?.cost.gasMinor).toBeCloseTo(2 * Number(price?.per_kg), 6)
    expect(found?.currency).toBe('USD')
    const operator = { ...foreman, grants: [{ siteId: site.id, role: 'operator' as const }] }
    expect(await getJobCost(operator, job.id)).toBeNull()
  })
})

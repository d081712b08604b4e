import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import { ROLES, roleCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { receiveDelivery } from '@/lib/data/deliveries'
import { EXPORTS, type ExportName } from '@/lib/data/exports/lists'
import { type Cell, openExport } from '@/lib/data/exports/read'
import { deliverySchema } from '@/lib/schemas/delivery'
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

const NAMES = Object.keys(EXPORTS) as ExportName[]
let siteId: string
let otherId: string
let manager: Viewer
let yard: Viewer

/** A list as rows of head → cell, and how many came at a time. */
async function take(by: Viewer, name: ExportName, site: string | null = siteId) {
  const { head, pages } = openExport(by, name, site)
  const sizes: number[] = []
  const rows: Record<string, Cell>[] = []
  for await (const page of pages) {
    sizes.push(page.length)
    for (const cells of page) {
      expect(cells).toHaveLength(head.length)
      rows.push(Object.fromEntries(head.map((title, i) => [title, cells[i] ?? null])))
    }
  }
  return { rows, sizes }
}

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  otherId = await newSite('America/New_York')
  manager = await newViewer(siteId, 'shop_manager')
  yard = await newViewer(siteId, 'yard_hand')
})

describe('a list as a file', () => {
  test('goes to whom the table of roles lets read it, and to nobody else', async () => {
    for (const role of ROLES) {
      const viewer = await newViewer(siteId, role)
      for (const name of NAMES) {
        if (roleCan(role, EXPORTS[name].action)) {
          await take(viewer, name)
          await take(viewer, name, null)
        } else {
          expect(() => openExport(viewer, name, siteId)).toThrow(refusal('FORBIDDEN'))
          expect(() => openExport(viewer, name, null)).toThrow(refusal('FORBIDDEN'))
        }
        expect(() => openExport(viewer, name, otherId)).toThrow(refusal('NOT_FOUND'))
      }
    }
    expect(() => openExport(manager, 'toString', siteId)).toThrow(refusal('NOT_FOUND'))
  })

  test('has every row of its site once, a few hundred at a time, and none of another', async () => {
    const job = (site: string, number: string) => ({
      id: uuidv7(),
      site_id: site,
      number,
      title: `Job ${number}`,
      planned_start: '2026-04-01',
      planned_end: '2026-04-02',
    })
    const mine = Array.from({ length: 1_203 }, (_, i) => `EX-${i}`)
    await insert('jobs', ...mine.map((number) => job(siteId, number)))
    await insert('jobs', job(otherId, 'ELSEWHERE'))
    const { rows, sizes } = await take(manager, 'jobs')
    expect(rows.map((row) => row.job).toSorted()).toEqual(mine.toSorted())
    expect(sizes).toEqual([500, 500, 203])
    expect(rows[0]).toMatchObject({ planned_start: '2026-04-01', oxygen_kg: null, permits: 0 })
    const all = await take(manager, 'jobs', null)
    expect(all.rows).toHaveLength(1_203)
  })

  test('tells a delivery with what came, and an outfit with its tips', async () => {
    const supplierId = await newSupplier()
    await receiveDelivery(
      yard,
      deliverySchema.parse({
        key: uuidv7(),
        siteId,
        supplierId,
        rows: ['EXP-1', 'EXP-2'].map((serial) => ({ serial, sizeId: 'oxygen-244' })),
      }),
    )
    expect((await take(yard, 'deliveries')).rows).toEqual([
      expect.objectContaining({ cylinders: 2, differences: 0, unsettled: 0, order: null }),
    ])
    const outfitId = await newOutfit(siteId)
    const tip = { outfit_id: outfitId, kind: 'tip', name: '=2+3' }
    await insert('outfit_parts', { id: uuidv7(), ...tip, orifice_m: 0.00137, shop_tip: '2' })
    await insert('outfit_parts', { id: uuidv7(), ...tip, removed_at: '2026-01-01T00:00:00Z' })
    expect((await take(yard, 'tips')).rows).toEqual([
      expect.objectContaining({ tip: '=2+3', orifice_mm: 1.37, shop_tip: '2' }),
    ])
    expect((await take(yard, 'parts')).rows).toHaveLength(2)
    expect((await take(yard, 'outfits')).rows).toHaveLength(1)
  })

  test('has a card once for somebody of two sites, and none of people elsewhere', async () => {
    const card = (personId: string) => ({
      id: uuidv7(),
      person_id: personId,
      kind: 'fire_watch',
      valid_from: '2026-01-01',
      valid_until: '2027-01-01',
      evidence: 'Course record',
    })
    const [both, there] = [await newViewer(siteId, 'fire_watch'), await newViewer(otherId, 'pai')]
    await insert('grants', {
      id: uuidv7(),
      person_id: both.personId,
      site_id: otherId,
      role: 'fire_watch',
    })
    await insert('qualifications', card(both.personId), card(there.personId))
    const reader: Viewer = {
      ...manager,
      grants: [siteId, otherId].map((site) => ({ siteId: site, role: 'shop_manager' })),
    }
    expect((await take(reader, 'qualifications', null)).rows).toHaveLength(2)
    expect((await take(manager, 'qualifications', null)).rows).toEqual([
      expect.objectContaining({ kind: 'fire_watch', valid_until: '2027-01-01', files: 0 }),
    ])
  })

  test('shows when something was by the clock on its site’s wall', async () => {
    const extinguisher = { id: uuidv7(), site_id: siteId, number: '7', kind: 'co2' }
    await insert('extinguishers', { ...extinguisher, rating: '10-B:C', place: 'Gate' })
    await insert('extinguisher_checks', {
      id: uuidv7(),
      extinguisher_id: extinguisher.id,
      site_id: siteId,
      kind: 'annual',
      is_good: true,
      person_id: yard.personId,
    })
    const [check] = await rowsOf<{ at: Date }>('SELECT at FROM extinguisher_checks')
    // Swedes write a time as the list does.
    const wall = new Intl.DateTimeFormat('sv-SE', {
      timeZone: 'America/Chicago',
      dateStyle: 'short',
      timeStyle: 'short',
    }).format(check?.at)
    expect((await take(yard, 'extinguishers')).rows).toEqual([
      expect.objectContaining({ last_annual: wall, last_was_good: 'yes' }),
    ])
  })
})

import { v7 as uuidv7 } from 'uuid'
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { moveCylinder } from '@/lib/data/cylinders-life'
import { takeInCylinder } from '@/lib/data/cylinders-take-in'
import { receiveDelivery } from '@/lib/data/deliveries'
import { leave, loadCylinder, startTrip, unload } from '@/lib/data/gear/trip-acts'
import { getTrip } from '@/lib/data/gear/trips'
import { listStorage } from '@/lib/data/storage'
import { saveStorageAnswers } from '@/lib/data/storage-answers'
import { swapCylinder } from '@/lib/data/swaps'
import { TRIP_CHECKS } from '@/lib/rules/trip'
import { takeInSchema } from '@/lib/schemas/cylinder-life'
import { deliverySchema } from '@/lib/schemas/delivery'
import { storageAnswersSchema } from '@/lib/schemas/storage'
import { leaveSchema, loadCylinderSchema } from '@/lib/schemas/trip'
import { testDatabase } from '../setup/database'
import {
  cylinderAt,
  insert,
  newOutfit,
  newSite,
  newSupplier,
  newViewer,
  refusal,
  rowsOf,
  type SizeId,
  setCompany,
} from './gas-world'

const DAY_MS = 86_400_000

let siteId: string
let yard: Viewer
let areaId: string

beforeAll(setCompany)
beforeEach(async () => {
  siteId = await newSite()
  yard = await newViewer(siteId, 'yard_hand', 'foreman')
  areaId = await newArea()
})
afterEach(() => testDatabase().setClock(0))

async function newArea(facts: object = { indoors: true, sprinklers: false }): Promise<string> {
  const id = uuidv7()
  await insert('areas', {
    id,
    site_id: siteId,
    name: `Bay ${id.slice(-6)}`,
    area_class: 'permit',
    facts: { json: facts },
    posts: { json: [] },
  })
  return id
}
const inForce = (...rulesets: string[]) =>
  Promise.all(
    rulesets.map((ruleset_id) =>
      insert('site_rulesets', { id: uuidv7(), site_id: siteId, ruleset_id }),
    ),
  )
const move = (cylinderId: string, over: object = {}) =>
  moveCylinder(yard, { key: uuidv7(), cylinderId, toSiteId: null, areaId, ...over })
const bring = async (size: SizeId, over: object = {}) =>
  move((await cylinderAt(siteId, size, yard)).id, over)
const answer = (over: Record<string, string> = {}) =>
  saveStorageAnswers(
    yard,
    storageAnswersSchema.parse({
      key: uuidv7(),
      areaId,
      oxygenFuelFt: '20',
      isVentilated: 'yes',
      isDry: 'yes',
      isAwayFromHeatAndExits: 'yes',
      isSafeFromTampering: 'yes',
      highlyCombustibleFt: '20',
      noSmokingSignsWithinFt: '25',
      firePermitNo: 'FD-1',
      ...over,
    }),
  )
const codesOf = (error: unknown) =>
  (error as { reasons: { code: string }[] }).reasons.map((reason) => reason.code)
const refusedWith = (call: Promise<unknown>) =>
  call.then(
    () => null,
    (error: unknown) => error,
  )

describe('moving into an area', () => {
  // IFC Table 5003.1.1(1): 1,500 cu ft of oxidizing gas; six of 244 are 1,464.
  test('is refused past what it may hold, with the paragraph, and confirming changes nothing', async () => {
    await inForce('us-ifc-2018')
    await answer()
    for (let n = 0; n < 6; n += 1) await bring('oxygen-244')
    const seventh = await cylinderAt(siteId, 'oxygen-244', yard)
    for (const over of [{}, { storageConfirmed: true }]) {
      const error = await refusedWith(move(seventh.id, over))
      expect(error).toEqual(refusal('STORAGE_REFUSED'))
      expect(error).toMatchObject({
        reasons: [
          {
            code: 'STORE_CONTROL_AREA',
            params: { mostFt3: 1500, citation: expect.stringContaining('5003.1.1(1)') },
          },
        ],
      })
    }
    // Elsewhere on the site, or in another area, it may stand.
    await move(seventh.id, { areaId: null })
    await move(seventh.id, { areaId: await newArea() })
  })

  test('is asked about past a limit that warns, and who confirmed it is kept', async () => {
    await inForce('us-ifc-2018')
    await answer({ firePermitNo: '' })
    await bring('oxygen-244')
    await bring('oxygen-244')
    const third = await cylinderAt(siteId, 'oxygen-244', yard)
    const error = await refusedWith(move(third.id))
    expect(error).toEqual(refusal('STORAGE_ASKS'))
    expect(codesOf(error)).toEqual(['STORE_OPERATIONAL_PERMIT'])
    await move(third.id, { storageConfirmed: true })
    const [kept] = await rowsOf<{ site_id: string; person_id: string; ids: string[]; n: number }>(
      `SELECT site_id, person_id, cylinder_ids AS ids, jsonb_array_length(findings) AS n FROM storage_confirmations WHERE area_id = $1`,
      [areaId],
    )
    expect(kept).toEqual({ site_id: siteId, person_id: yard.personId, ids: [third.id], n: 1 })
  })

  test('of two who bring the last that fits at once, one is refused', async () => {
    await inForce('us-ifc-2018')
    await answer()
    for (let n = 0; n < 5; n += 1) await bring('oxygen-244')
    const [a, b] = [
      await cylinderAt(siteId, 'oxygen-244', yard),
      await cylinderAt(siteId, 'oxygen-244', yard),
    ]
    const both = await Promise.all([refusedWith(move(a.id)), refusedWith(move(b.id))])
    expect(both.filter((one) => one === null)).toHaveLength(1)
    expect(both.find((one) => one !== null)).toEqual(refusal('STORAGE_REFUSED'))
  })
})

describe('what parts oxygen and fuel gas', () => {
  const withFuel = async () => {
    await inForce('us-osha-1926')
    await bring('acetylene-225')
  }

  test('is asked for where nobody measured it, refused where it is too little', async () => {
    await withFuel()
    const oxygen = await cylinderAt(siteId, 'oxygen-244', yard)
    const asked = await refusedWith(move(oxygen.id))
    expect(asked).toEqual(refusal('STORAGE_ASKS'))
    expect(codesOf(asked)).toEqual(['STORE_SEPARATION'])
    await answer({ oxygenFuelFt: '19.9' })
    const refused = await refusedWith(move(oxygen.id, { storageConfirmed: true }))
    expect(refused).toEqual(refusal('STORAGE_REFUSED'))
    expect(refused).toMatchObject({
      reasons: [{ params: { citation: '29 CFR 1926.350(a)(10)' } }],
    })
    await answer({ oxygenFuelFt: '20' })
    await move(oxygen.id)
  })

  test.each([
    ['5 ft of wall rated half an hour', { barrierHeightFt: '5', barrierRatingMin: '30' }, true],
    ['4.9 ft', { barrierHeightFt: '4.9', barrierRatingMin: '60' }, false],
    ['a sheet without a rating', { barrierHeightFt: '6', barrierRatingMin: '' }, false],
  ])('%s', async (_which, wall, isEnough) => {
    await withFuel()
    await answer({ oxygenFuelFt: '2', hasBarrier: 'yes', isNoncombustible: 'yes', ...wall })
    const error = await refusedWith(bring('oxygen-244'))
    expect(error).toEqual(isEnough ? null : refusal('STORAGE_REFUSED'))
  })

  test('is asked again after ninety days and when the area has changed', async () => {
    await withFuel()
    await answer()
    const area = async () =>
      (await listStorage(yard, siteId)).areas.find((one) => one.id === areaId)?.answers
    expect(await area()).toMatchObject({ isStale: false, personName: expect.any(String) })
    await testDatabase().setClock(91 * DAY_MS)
    expect(await area()).toMatchObject({ isStale: true })
    await answer()
    await testDatabase().owner.query(
      `UPDATE areas SET facts = facts || '{"sprinklers": true}' WHERE id = $1`,
      [areaId],
    )
    expect(await area()).toMatchObject({ isStale: true })
    expect(await refusedWith(bring('oxygen-244'))).toEqual(refusal('STORAGE_ASKS'))
  })
})

describe('every way into an area', () => {
  const full = async () => {
    await inForce('us-ifc-2018')
    await answer()
    for (let n = 0; n < 6; n += 1) await bring('oxygen-244')
  }

  test('a delivery, refused whole and nothing of it kept', async () => {
    await full()
    const supplierId = await newSupplier()
    const rows = [{ serial: `OX-${uuidv7().slice(-8).toUpperCase()}`, sizeId: 'oxygen-244' }]
    const typed = { key: uuidv7(), siteId, supplierId, rows }
    const error = await refusedWith(
      receiveDelivery(yard, deliverySchema.parse({ ...typed, areaId })),
    )
    expect(error).toEqual(refusal('STORAGE_REFUSED'))
    expect(await rowsOf('SELECT 1 FROM cylinders WHERE serial = $1', [rows[0]?.serial])).toEqual([])
    await receiveDelivery(yard, deliverySchema.parse({ ...typed, areaId: await newArea() }))
  })

  test('one that is bought or rented in', async () => {
    await full()
    const typed = {
      key: uuidv7(),
      siteId,
      areaId,
      how: 'bought',
      serial: `OX-${uuidv7().slice(-8).toUpperCase()}`,
      isAnother: 'yes',
      sizeId: 'oxygen-244',
      vessel: 'cylinder',
      dueMonth: '2099-01',
    }
    expect(await refusedWith(takeInCylinder(yard, takeInSchema.parse(typed)))).toEqual(
      refusal('STORAGE_REFUSED'),
    )
  })

  test('one that comes off a truck', async () => {
    await full()
    const otherId = await newSite()
    const driver = await newViewer(otherId, 'yard_hand')
    const hand = { ...driver, grants: [...driver.grants, ...yard.grants] }
    const vehicleId = uuidv7()
    await insert('vehicles', {
      id: vehicleId,
      site_id: otherId,
      name: 'Flatbed',
      plate: vehicleId.slice(-10),
      body: 'open_bed',
    })
    const { id: tripId } = await startTrip(hand, {
      key: uuidv7(),
      siteId: otherId,
      toSiteId: siteId,
      vehicleId,
      driverId: driver.personId,
      purpose: 'supports_principal_business',
    })
    const { serial } = await cylinderAt(otherId, 'oxygen-244', driver)
    const weight = { weight: '160', weightUnit: 'lb' }
    const load = { key: uuidv7(), tripId, serial, body: 'truck', ...weight }
    await loadCylinder(hand, loadCylinderSchema.parse(load))
    const checks = [...TRIP_CHECKS]
    await leave(
      hand,
      leaveSchema.parse({ key: uuidv7(), tripId, checks, other: '', shippingPaperNo: '' }),
    )
    const items = (await getTrip(hand, tripId)).items.map((item) => item.id)
    const off = { key: uuidv7(), tripId, siteId, items }
    expect(await refusedWith(unload(yard, { ...off, areaId }))).toEqual(refusal('STORAGE_REFUSED'))
    await unload(yard, { ...off, areaId: null })
  })

  test('one that a swap takes off an outfit', async () => {
    await full()
    const outfitId = await newOutfit(siteId)
    const swap = (on: string, off: string | null, over: object = {}) =>
      swapCylinder(yard, {
        key: uuidv7(),
        outfitId,
        side: 'oxygen',
        place: 1,
        permitId: null,
        offCylinderId: off,
        markedEmpty: off !== null,
        onSerial: on,
        shutAndBled: true,
        leakTested: true,
        foundOn: false,
        reason: null,
        offReading: null,
        ...over,
      })
    const [first, second] = [
      await cylinderAt(siteId, 'oxygen-244', yard),
      await cylinderAt(siteId, 'oxygen-244', yard),
    ]
    await swap(first.serial, null)
    const put = { offAreaId: areaId }
    expect(await refusedWith(swap(second.serial, first.id, put))).toEqual(
      refusal('STORAGE_REFUSED'),
    )
    const lotId = await newArea({ indoors: false })
    await swap(second.serial, first.id, { offAreaId: lotId })
    expect(await rowsOf('SELECT area_id FROM cylinders WHERE id = $1', [first.id])).toEqual([
      { area_id: lotId },
    ])
  })
})

test('answers are added, by who may move cylinders there, and none is altered', async () => {
  const watch = await newViewer(siteId, 'fire_watch')
  const typed = { key: uuidv7(), areaId, oxygenFuelFt: '20' }
  await expect(saveStorageAnswers(watch, storageAnswersSchema.parse(typed))).rejects.toEqual(
    refusal('FORBIDDEN'),
  )
  const stranger = await newViewer(await newSite(), 'yard_hand')
  await expect(saveStorageAnswers(stranger, storageAnswersSchema.parse(typed))).rejects.toEqual(
    refusal('NOT_FOUND'),
  )
  await answer()
  for (const change of ['UPDATE storage_answers SET answers = $1', 'DELETE FROM storage_answers'])
    await expect(
      testDatabase().runtime.query(change, change.includes('$1') ? ['{}'] : []),
    ).rejects.toThrow()
  const audited = await rowsOf('SELECT 1 FROM audit_entries WHERE chain = $1 AND subject_id = $2', [
    siteId,
    areaId,
  ])
  expect(audited.length).toBeGreaterThan(0)
})

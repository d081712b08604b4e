import { v7 as uuidv7 } from 'uuid'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import {
  addExtinguisher,
  checkExtinguisher,
  listExtinguishers,
  removeExtinguisher,
} from '@/lib/data/gear/extinguishers'
import { getOutfit } from '@/lib/data/gear/outfit'
import { recordCheck, recordHoldTest, recordService } from '@/lib/data/gear/outfit-acts'
import { addPart, removePart, saveOutfit } from '@/lib/data/gear/outfit-set-up'
import { swapCylinder } from '@/lib/data/swaps'
import { addPartSchema, holdTestSchema, saveOutfitSchema } from '@/lib/schemas/outfit'
import { swapSchema } from '@/lib/schemas/swap'
import { testDatabase } from '../setup/database'
import {
  cylinderAt,
  insert,
  newOutfit,
  newSite,
  newViewer,
  refusal,
  rowsOf,
  setCompany,
} from './gas-world'

let siteId: string
let otherSiteId: string
let foreman: Viewer
let outfitId: string

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  otherSiteId = await newSite()
  foreman = await newViewer(siteId, 'foreman')
})
beforeEach(async () => {
  outfitId = await newOutfit(siteId)
})

type Check = Parameters<typeof recordCheck>[1]['check']
const look = (check: Check, isGood: 'yes' | 'no' = 'yes', by = foreman) =>
  recordCheck(by, {
    key: uuidv7(),
    outfitId,
    check,
    isGood,
    reason: isGood === 'yes' ? null : 'Cut hose',
  })
const hold = (over: Record<string, string> = {}) =>
  recordHoldTest(
    foreman,
    holdTestSchema.parse({
      key: uuidv7(),
      outfitId,
      test: 'leak',
      side: 'oxygen',
      start: '60',
      startUnit: 'psi',
      end: '60',
      endUnit: 'psi',
      resolution: '2',
      resolutionUnit: 'psi',
      minutes: '10',
      ...over,
    }),
  )
const service = (act: 'out_of_service' | 'flashback' | 'back_in_service') =>
  recordService(foreman, {
    key: uuidv7(),
    outfitId,
    act,
    reason: act === 'back_in_service' ? null : 'Popped and squealed',
  })
const codesOf = async () =>
  (await getOutfit(foreman, outfitId)).backReasons.map((reason) => reason.code)

describe('the soap check', () => {
  const putOn = (onSerial: string, over: Record<string, string | undefined> = {}) =>
    swapCylinder(
      foreman,
      swapSchema.parse({
        key: uuidv7(),
        outfitId,
        side: 'oxygen',
        onSerial,
        shutAndBled: 'yes',
        leakTested: 'yes',
        ...over,
      }),
    )
  const soap = async () => (await getOutfit(foreman, outfitId)).soap

  test('is part of every swap, and due of what was found hanging without one', async () => {
    expect(await soap()).toEqual({ at: null, unsoaped: [] })
    const first = await cylinderAt(siteId, 'oxygen-244', foreman)
    await expect(putOn(first.serial, { leakTested: undefined })).rejects.toEqual(
      refusal('LEAK_TEST_MISSING'),
    )
    await putOn(first.serial)
    expect(await soap()).toMatchObject({ at: expect.any(Date), unsoaped: [] })
    const wrong = await cylinderAt(siteId, 'oxygen-244', foreman)
    await putOn(wrong.serial, { side: 'fuel', foundOn: 'yes', reason: 'Hung there this morning' })
    expect((await soap()).unsoaped).toEqual([wrong.serial])
    await look('soap_check')
    expect((await soap()).unsoaped).toEqual([])
  })
})

describe('an outfit', () => {
  const form = (over: Record<string, string> = {}) =>
    saveOutfitSchema.parse({
      key: uuidv7(),
      siteId,
      outfitId: '',
      number: `N${uuidv7().slice(-8)}`,
      fuel: 'propane',
      crewId: '',
      holderId: foreman.personId,
      rentedFrom: 'Salt Ridge Rental',
      oxygenPlaces: '1',
      fuelPlaces: '1',
      ...over,
    })

  test('is made with its number, whose it is and who has it', async () => {
    const { id } = await saveOutfit(foreman, form())
    expect(await getOutfit(foreman, id)).toMatchObject({
      fuelGasId: 'propane',
      rentedFrom: 'Salt Ridge Rental',
      holderId: foreman.personId,
      isInService: true,
    })
    await saveOutfit(foreman, form({ outfitId: id, rentedFrom: '', holderId: '' }))
    expect(await getOutfit(foreman, id)).toMatchObject({ rentedFrom: null, holderName: null })
  })

  test('goes to nobody and no site beyond the viewer’s', async () => {
    const stranger = await newViewer(otherSiteId, 'foreman')
    await expect(saveOutfit(foreman, form({ holderId: stranger.personId }))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    await expect(saveOutfit(foreman, form({ siteId: otherSiteId }))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    await expect(getOutfit(stranger, outfitId)).rejects.toEqual(refusal('NOT_FOUND'))
  })

  // Grade R is for acetylene only: a vendor's guide (read) beside RMA/CGA IP-7 (from memory).
  test('takes no fuel hose of a grade that is not for its fuel', async () => {
    const { id } = await saveOutfit(foreman, form())
    const hose = (hoseGrade: string) =>
      addPart(
        foreman,
        addPartSchema.parse({
          key: uuidv7(),
          outfitId: id,
          kind: 'hose_fuel',
          name: 'Fuel hose',
          hoseGrade,
          lengthFt: '50',
          boreIn: '1/4',
          orificeIn: '',
        }),
      )
    await expect(hose('R')).rejects.toEqual(refusal('HOSE_NOT_FOR_FUEL'))
    const { id: partId } = await hose('T')
    const [part] = (await getOutfit(foreman, id)).parts
    expect(part?.lengthM).toBeCloseTo(15.24, 6)
    await removePart(foreman, { key: uuidv7(), partId })
    expect((await getOutfit(foreman, id)).parts).toEqual([])
    await expect(removePart(foreman, { key: uuidv7(), partId })).rejects.toEqual(
      refusal('CONFLICT'),
    )
  })
})

describe('out of service', () => {
  test('ends by inspection and leak test since, whose reasons are all said before', async () => {
    await look('inspection')
    await hold()
    await service('out_of_service')
    expect(await codesOf()).toEqual(['INSPECTION_MISSING', 'LEAK_TEST_MISSING'])
    await expect(service('back_in_service')).rejects.toEqual(refusal('INSPECTION_MISSING'))
    await look('inspection')
    await hold()
    await service('back_in_service')
    expect(await getOutfit(foreman, outfitId)).toMatchObject({ isInService: true, reason: null })
  })

  test('after a flashback asks for the arrestors too', async () => {
    await service('flashback')
    await look('inspection')
    await hold()
    expect(await codesOf()).toEqual(['ARRESTOR_TEST_MISSING'])
    await look('arrestor_oxygen')
    await service('back_in_service')
    expect(await codesOf()).toEqual([])
  })

  test('begins by itself with a test that fails, and lasts until that one passes', async () => {
    expect(await hold({ end: '52' })).toMatchObject({ verdict: 'outOfService' })
    expect(await getOutfit(foreman, outfitId)).toMatchObject({ isInService: false })
    await look('inspection')
    await hold({ side: 'fuel' })
    expect(await codesOf()).toEqual(['CHECK_FAILED'])
    await hold()
    await service('back_in_service')
    expect((await getOutfit(foreman, outfitId)).isInService).toBe(true)
  })

  test('begins with a regulator that creeps and an inspection that says no', async () => {
    expect(await hold({ test: 'creep', start: '20', end: '26' })).toMatchObject({
      verdict: 'outOfService',
    })
    const other = outfitId
    outfitId = await newOutfit(siteId)
    await look('shift_inspection', 'no')
    for (const id of [other, outfitId])
      expect((await getOutfit(foreman, id)).isInService).toBe(false)
  })

  test('is no permit’s: the database puts no such outfit on one, by whatever way', async () => {
    await service('flashback')
    const [jobId, areaId] = [uuidv7(), uuidv7()]
    await insert('jobs', {
      id: jobId,
      site_id: siteId,
      number: uuidv7().slice(-8),
      title: 'Beams',
      planned_start: '2026-01-01',
      planned_end: '2026-12-31',
    })
    await insert('areas', {
      id: areaId,
      site_id: siteId,
      name: 'Bay',
      area_class: 'permit',
      facts: { json: {} },
      posts: { json: [] },
    })
    const [operator, watch] = [
      await newViewer(siteId, 'operator'),
      await newViewer(siteId, 'fire_watch'),
    ]
    const permit = () =>
      insert('permits', {
        id: uuidv7(),
        site_id: siteId,
        job_id: jobId,
        area_id: areaId,
        outfit_id: outfitId,
        operator_id: operator.personId,
        fire_watch_id: watch.personId,
        what: 'Beams',
        where_words: 'Bay',
        cold_answer: { json: {} },
        planned_from: new Date(),
        planned_until: new Date(Date.now() + 3_600_000),
        prepared_by: foreman.personId,
      })
    await expect(permit()).rejects.toMatchObject({
      code: 'KW001',
      message: expect.stringContaining('OUTFIT_OUT_OF_SERVICE'),
    })
  })

  test('cannot be talked away: a verdict that the gauges contradict is refused by the database', async () => {
    const lie = (data: object) =>
      testDatabase().owner.query(
        `INSERT INTO outfit_events (id, outfit_id, site_id, kind, person_id, role_then, data)
         VALUES ($1, $2, $3, 'leak_tested', $4, 'foreman', $5)`,
        [uuidv7(), outfitId, siteId, foreman.personId, JSON.stringify(data)],
      )
    const read = { startKpa: 400, endKpa: 350, resolutionKpa: 10, verdict: 'noFallSeen' }
    await expect(lie(read)).rejects.toMatchObject({ code: 'KW004' })
    await expect(lie({ ...read, endKpa: 395 })).resolves.toBeTruthy()
  })
})

describe('what is to be tested', () => {
  const standing = async () =>
    Object.fromEntries(
      (await getOutfit(foreman, outfitId)).due.map((one) => [one.check, one.standing]),
    )

  test('is all of it at first, and less with each test of both sides', async () => {
    expect(Object.values(await standing())).toEqual(['never', 'never', 'never', 'never', 'never'])
    await look('inspection')
    await hold()
    expect(await standing()).toMatchObject({
      shift_inspection: 'done',
      inspection: 'done',
      leak_test: 'never',
    })
    await hold({ side: 'fuel' })
    expect(await standing()).toMatchObject({ leak_test: 'done' })
    await testDatabase().setClock(31 * 86_400_000)
    expect(await standing()).toMatchObject({ shift_inspection: 'due', leak_test: 'due' })
    await testDatabase().setClock(0)
  })

  test('is not forgotten because somebody looks it over each day', async () => {
    await look('arrestor_oxygen')
    await look('arrestor_fuel')
    await insert(
      'outfit_events',
      ...Array.from({ length: 70 }, () => ({
        id: uuidv7(),
        outfit_id: outfitId,
        site_id: siteId,
        kind: 'inspected',
        data: { json: { scope: 'shift', verdict: 'passed' } },
        person_id: foreman.personId,
        role_then: 'foreman',
      })),
    )
    expect(await standing()).toMatchObject({ shift_inspection: 'done', arrestor_test: 'done' })
  })

  test('shows a fall that grows from test to test though each passes', async () => {
    for (const [i, end] of ['60', '60', '60', '58.1', '58.1', '58.1'].entries()) {
      await testDatabase().setClock(i * 10 * 86_400_000)
      await hold({ end })
    }
    const { trends, isInService } = await getOutfit(foreman, outfitId)
    await testDatabase().setClock(0)
    expect(isInService).toBe(true)
    expect(trends.oxygen).toMatchObject({ verdict: 'rising' })
    expect(trends.fuel).toEqual({ verdict: 'tooFew' })
  })

  test('is recorded by who may inspect, at their own site', async () => {
    const watch = await newViewer(siteId, 'fire_watch')
    await expect(look('inspection', 'yes', watch)).rejects.toEqual(refusal('FORBIDDEN'))
    const elsewhere = await newViewer(otherSiteId, 'foreman')
    await expect(look('inspection', 'yes', elsewhere)).rejects.toEqual(refusal('NOT_FOUND'))
  })
})

describe('an extinguisher', () => {
  const make = () =>
    addExtinguisher(foreman, {
      key: uuidv7(),
      siteId,
      number: uuidv7().slice(-8),
      kind: 'dry_chemical',
      rating: '4-A:80-B:C',
      place: 'Bay 1, door',
    })
  const rowOf = async (id: string) =>
    (await listExtinguishers(foreman, siteId)).rows.find((row) => row.id === id)
  const check = (extinguisherId: string, over: object = {}) =>
    checkExtinguisher(foreman, {
      key: uuidv7(),
      extinguisherId,
      kind: 'monthly',
      isGood: 'yes',
      note: null,
      ...over,
    })

  test('owes its monthly and annual looks; the annual one counts as both', async () => {
    const { id } = await make()
    expect((await rowOf(id))?.due.map((one) => one.standing)).toEqual(['never', 'never'])
    await check(id)
    expect((await rowOf(id))?.due.map((one) => one.standing)).toEqual(['done', 'never'])
    await check(id, { kind: 'annual' })
    expect((await rowOf(id))?.due.map((one) => one.standing)).toEqual(['done', 'done'])
  })

  test('shows what was wrong until somebody finds it good', async () => {
    const { id } = await make()
    await check(id, { isGood: 'no', note: 'Gauge in the red' })
    expect((await rowOf(id))?.fault).toBe('Gauge in the red')
    await check(id)
    expect((await rowOf(id))?.fault).toBeNull()
  })

  test('is taken away once, and its checks are never changed', async () => {
    const { id } = await make()
    await check(id)
    await removeExtinguisher(foreman, { key: uuidv7(), extinguisherId: id })
    expect(await rowOf(id)).toBeUndefined()
    await expect(
      removeExtinguisher(foreman, { key: uuidv7(), extinguisherId: id }),
    ).rejects.toEqual(refusal('CONFLICT'))
    await expect(
      rowsOf('UPDATE extinguisher_checks SET is_good = false WHERE extinguisher_id = $1', [id]),
    ).rejects.toMatchObject({ code: 'KW002' })
  })

  test('is another site’s own business', async () => {
    const { id } = await make()
    const elsewhere = await newViewer(otherSiteId, 'foreman')
    await expect(listExtinguishers(elsewhere, siteId)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(
      checkExtinguisher(elsewhere, {
        key: uuidv7(),
        extinguisherId: id,
        kind: 'monthly',
        isGood: 'yes',
        note: null,
      }),
    ).rejects.toEqual(refusal('NOT_FOUND'))
  })
})

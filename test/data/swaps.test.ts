import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { saveCut } from '@/lib/data/cut-lists'
import { readCylinder } from '@/lib/data/cylinders-acts'
import { createJob, getJob } from '@/lib/data/jobs'
import { outfitContents } from '@/lib/data/outfits-contents'
import { swapCylinder } from '@/lib/data/swaps'
import { cutSchema } from '@/lib/schemas/cut'
import { readCylinderSchema } from '@/lib/schemas/cylinder'
import { newJobSchema } from '@/lib/schemas/job'
import { type SwapInput, swapSchema } from '@/lib/schemas/swap'
import {
  cylinderAt,
  event,
  insert,
  newOutfit,
  newSite,
  newViewer,
  refusal,
  rowsOf,
  setCompany,
} from './gas-world'

let siteId: string
let operator: Viewer
let watch: Viewer
let stranger: Viewer

const swap = (outfitId: string, onSerial: string, over: Record<string, string> = {}): SwapInput =>
  swapSchema.parse({
    key: uuidv7(),
    outfitId,
    side: 'oxygen',
    onSerial,
    shutAndBled: 'yes',
    leakTested: 'yes',
    ...over,
  })

const offWith = (cylinderId: string, gauge = '160') => ({
  offCylinderId: cylinderId,
  gauge,
  gaugeUnit: 'psi',
  temperature: '61',
  temperatureUnit: 'degF',
})
const stateOf = async (id: string) =>
  (
    await rowsOf<{ status: string; outfit_id: string | null }>(
      'SELECT status, outfit_id FROM cylinders WHERE id = $1',
      [id],
    )
  )[0]

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  operator = await newViewer(siteId, 'operator', 'foreman')
  watch = await newViewer(siteId, 'fire_watch')
  stranger = await newViewer(await newSite(), 'operator')
})

describe('a swap', () => {
  test('takes one off with its reading and puts the other on, in one act', async () => {
    const outfit = await newOutfit(siteId)
    const [first, second] = [
      await cylinderAt(siteId, 'oxygen-244', operator),
      await cylinderAt(siteId, 'oxygen-244', operator),
    ]
    await swapCylinder(operator, swap(outfit, first.serial))
    await swapCylinder(
      operator,
      swap(outfit, second.serial.toLowerCase(), offWith(first.id, '400')),
    )
    expect(await stateOf(first.id)).toEqual({ status: 'partial', outfit_id: null })
    expect(await stateOf(second.id)).toEqual({ status: 'in_use', outfit_id: outfit })
    expect(
      await rowsOf(
        'SELECT kind FROM cylinder_events WHERE swap_id IS NOT NULL AND outfit_id = $1 ORDER BY recorded_at, kind DESC',
        [outfit],
      ),
    ).toHaveLength(3)
  })

  test('sent twice, or twice at once, with one key is one swap', async () => {
    const outfit = await newOutfit(siteId)
    const [first, second] = [
      await cylinderAt(siteId, 'oxygen-244', operator),
      await cylinderAt(siteId, 'oxygen-244', operator),
    ]
    await swapCylinder(operator, swap(outfit, first.serial))
    const input = swap(outfit, second.serial, offWith(first.id))
    const both = await Promise.all([swapCylinder(operator, input), swapCylinder(operator, input)])
    expect(both[0]).toEqual(both[1])
    expect(await swapCylinder(operator, input)).toEqual(both[0])
    expect(await rowsOf('SELECT id FROM swaps WHERE outfit_id = $1', [outfit])).toHaveLength(2)
  })

  test('of one cylinder onto two outfits at once is made once and refused once', async () => {
    const outfits = [await newOutfit(siteId), await newOutfit(siteId)]
    const one = await cylinderAt(siteId, 'oxygen-244', operator)
    const settled = await Promise.allSettled(
      outfits.map((outfit) => swapCylinder(operator, swap(outfit, one.serial))),
    )
    expect(settled.map((result) => result.status).sort()).toEqual(['fulfilled', 'rejected'])
    const refused = settled.find((result) => result.status === 'rejected')
    expect(refused?.reason).toEqual(refusal('CYLINDER_ON_OUTFIT'))
  })

  test('with the wrong gas is not made, and says which gas on which hose', async () => {
    const outfit = await newOutfit(siteId)
    const oxygen = await cylinderAt(siteId, 'oxygen-244', operator)
    await expect(
      swapCylinder(operator, swap(outfit, oxygen.serial, { side: 'fuel' })),
    ).rejects.toMatchObject({
      reasons: [
        {
          code: 'WRONG_GAS',
          params: { serial: oxygen.serial, gas: 'oxygen', wanted: 'acetylene' },
        },
      ],
    })
    expect(await rowsOf('SELECT id FROM swaps WHERE outfit_id = $1', [outfit])).toEqual([])
  })

  test('wants the valves shut, the lines bled and the joint leak-tested', async () => {
    const outfit = await newOutfit(siteId)
    const one = await cylinderAt(siteId, 'oxygen-244', operator)
    await expect(
      swapCylinder(operator, { ...swap(outfit, one.serial), leakTested: false }),
    ).rejects.toEqual(refusal('LEAK_TEST_MISSING'))
    await expect(
      swapCylinder(operator, { ...swap(outfit, one.serial), shutAndBled: false }),
    ).rejects.toEqual(refusal('LEAK_TEST_MISSING'))
  })

  test('does not put on what is empty, held back, elsewhere or unknown', async () => {
    const outfit = await newOutfit(siteId)
    const [empty, held] = [
      await cylinderAt(siteId, 'oxygen-244', operator),
      await cylinderAt(siteId, 'oxygen-244', operator),
    ]
    await event({ cylinderId: empty.id, siteId, kind: 'read', marked_empty: true, by: operator })
    await event({
      cylinderId: held.id,
      siteId,
      kind: 'quarantined',
      reason: 'Dented',
      by: operator,
    })
    const away = await cylinderAt(await newSite(), 'oxygen-244', operator)
    await expect(swapCylinder(operator, swap(outfit, empty.serial))).rejects.toEqual(
      refusal('CYLINDER_EMPTY'),
    )
    await expect(swapCylinder(operator, swap(outfit, held.serial))).rejects.toEqual(
      refusal('CYLINDER_QUARANTINED'),
    )
    await expect(swapCylinder(operator, swap(outfit, away.serial))).rejects.toEqual(
      refusal('CYLINDER_ELSEWHERE'),
    )
    await expect(swapCylinder(operator, swap(outfit, 'OX-NONE'))).rejects.toEqual(
      refusal('SERIAL_UNKNOWN'),
    )
  })

  test('is refused to a fire watch, and another site finds no such outfit', async () => {
    const outfit = await newOutfit(siteId)
    const one = await cylinderAt(siteId, 'oxygen-244', operator)
    await expect(swapCylinder(watch, swap(outfit, one.serial))).rejects.toEqual(
      refusal('FORBIDDEN'),
    )
    await expect(swapCylinder(stranger, swap(outfit, one.serial))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
  })

  test('needs the reading of what comes off, or the word that it is empty', () => {
    const bare = {
      key: uuidv7(),
      outfitId: uuidv7(),
      side: 'oxygen',
      onSerial: 'OX-1',
      offCylinderId: uuidv7(),
    }
    expect(swapSchema.safeParse(bare).error?.issues).toEqual([
      expect.objectContaining({ message: 'READING_OR_EMPTY' }),
    ])
    expect(swapSchema.safeParse({ ...bare, markedEmpty: 'yes' }).success).toBe(true)
  })

  test('that was wrong and is found on is kept as what it was, and the outfit goes out of service', async () => {
    const outfit = await newOutfit(siteId)
    const oxygen = await cylinderAt(siteId, 'oxygen-244', operator)
    const found = swapSchema.parse({
      key: uuidv7(),
      outfitId: outfit,
      side: 'fuel',
      onSerial: oxygen.serial,
      foundOn: 'yes',
      reason: 'Adapter was used',
    })
    expect(await swapCylinder(operator, found)).toMatchObject({ wasWrong: true, swapId: null })
    expect(await stateOf(oxygen.id)).toEqual({ status: 'in_use', outfit_id: outfit })
    expect(await rowsOf('SELECT state FROM outfits WHERE id = $1', [outfit])).toEqual([
      { state: 'out_of_service' },
    ])
  })
})

describe('what is in an outfit', () => {
  async function permitWithCuts(
    outfitId: string,
    count: string,
  ): Promise<{ permitId: string; jobId: string; cutId: string }> {
    const job = newJobSchema.parse({
      key: uuidv7(),
      number: `S${uuidv7().slice(-6)}`,
      title: 'Stack',
      siteId,
      plannedStart: '2026-04-13',
      plannedEnd: '2026-04-17',
      chancePercent: '100',
      fuel: 'acetylene',
      process: 'hand',
    })
    const { id: jobId } = await createJob(operator, job)
    const cutListId = (await getJob(operator, jobId)).list?.id ?? ''
    const cut = cutSchema.parse({
      key: uuidv7(),
      cutListId,
      material: 'carbon_steel',
      shape: 'plate',
      thickness: '1',
      thicknessUnit: 'in',
      length: '4',
      lengthUnit: 'ft',
      count,
    })
    const { id: cutId } = await saveCut(operator, cut)
    const areaId = uuidv7()
    await insert('areas', {
      id: areaId,
      site_id: siteId,
      name: areaId,
      area_class: 'permit',
      facts: { json: {} },
      posts: { json: [] },
    })
    const permitId = uuidv7()
    await insert('permits', {
      id: permitId,
      site_id: siteId,
      area_id: areaId,
      job_id: jobId,
      cut_list_id: cutListId,
      outfit_id: outfitId,
      what: 'Cut',
      where_words: 'Deck',
      cold_answer: { json: {} },
      planned_from: new Date(),
      planned_until: new Date(Date.now() + 3_600_000),
      operator_id: operator.personId,
      prepared_by: operator.personId,
    })
    return { permitId, jobId, cutId }
  }

  test('with no cylinder says so, and with one its contents and interval', async () => {
    const outfit = await newOutfit(siteId)
    expect((await outfitContents(operator, outfit, new Date())).oxygen).toMatchObject({
      cylinders: [],
      contents: null,
      change: null,
    })
    const one = await cylinderAt(siteId, 'oxygen-244', operator)
    await swapCylinder(operator, swap(outfit, one.serial))
    const { oxygen, fuel } = await outfitContents(operator, outfit, new Date())
    expect(oxygen).toMatchObject({
      gasId: 'oxygen',
      cylinders: [{ serial: one.serial }],
      change: null,
    })
    expect(oxygen.contents!.low90Kg).toBeLessThan(oxygen.contents!.high90Kg)
    expect(fuel).toMatchObject({ gasId: 'acetylene', cylinders: [] })
  })

  test('says when to change, between which times, and what is short of the cuts to do', async () => {
    const outfit = await newOutfit(siteId)
    const one = await cylinderAt(siteId, 'oxygen-244', operator)
    await swapCylinder(operator, swap(outfit, one.serial))
    await readCylinder(
      operator,
      readCylinderSchema.parse({
        key: uuidv7(),
        cylinderId: one.id,
        gauge: '790',
        gaugeUnit: 'psi',
        temperature: '61',
        temperatureUnit: 'degF',
      }),
    )
    await permitWithCuts(outfit, '90')
    const now = new Date()
    const { change } = (await outfitContents(operator, outfit, now)).oxygen
    expect(change!.low.getTime()).toBeGreaterThan(now.getTime())
    expect(change!.middle.getTime()).toBeGreaterThan(change!.low.getTime())
    expect(change!.high!.getTime()).toBeGreaterThan(change!.middle.getTime())
    expect(change!.shortKg.mean).toBeGreaterThan(0)
    expect(change!.teeth.map((tooth) => tooth.chance)).toEqual([0.275, 0.5, 0.725, 0.95])
  })

  test('takes off what was cut since the reading', async () => {
    const outfit = await newOutfit(siteId)
    const one = await cylinderAt(siteId, 'oxygen-244', operator)
    await swapCylinder(operator, swap(outfit, one.serial))
    const { jobId, cutId } = await permitWithCuts(outfit, '9')
    const before = (await outfitContents(operator, outfit, new Date())).oxygen
    // Straight into the table: whether this cut was allowed is another test's business.
    await rowsOf('ALTER TABLE hot_work_logs DISABLE TRIGGER USER')
    const [area] = await rowsOf<{ id: string }>('SELECT id FROM areas WHERE site_id = $1 LIMIT 1', [
      siteId,
    ])
    await insert('hot_work_logs', {
      id: uuidv7(),
      site_id: siteId,
      job_id: jobId,
      area_id: area!.id,
      operator_id: operator.personId,
      outfit_id: outfit,
      cut_id: cutId,
      pieces: 3,
      from_at: new Date(),
      to_at: new Date(Date.now() + 1000),
      recorded_at: new Date(Date.now() + 2000),
      person_id: operator.personId,
      role_then: 'operator',
    })
    await rowsOf('ALTER TABLE hot_work_logs ENABLE TRIGGER USER')
    const after = (await outfitContents(operator, outfit, new Date())).oxygen
    expect(after.burntSinceReadingKg).toBeGreaterThan(0)
    expect(after.contents!.kg).toBeCloseTo(before.contents!.kg - after.burntSinceReadingKg, 9)
    expect(after.contents!.high90Kg - after.contents!.low90Kg).toBeGreaterThan(
      before.contents!.high90Kg - before.contents!.low90Kg,
    )
  })

  test('is not found from another site', async () => {
    await expect(outfitContents(stranger, await newOutfit(siteId), new Date())).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
  })
})

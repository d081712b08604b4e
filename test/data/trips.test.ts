import { v7 as uuidv7 } from 'uuid'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import {
  addVehicle,
  changeVehicle,
  leave,
  loadCylinder,
  removeVehicle,
  startTrip,
  unload,
} from '@/lib/data/gear/trip-acts'
import { getTrip, listTrips } from '@/lib/data/gear/trips'
import { TRIP_CHECKS } from '@/lib/rules/trip'
import { changeVehicleSchema, leaveSchema, loadCylinderSchema } from '@/lib/schemas/trip'
import { testDatabase } from '../setup/database'
import { vectors } from '../unit/rules/vectors'
import {
  cylinderAt,
  insert,
  newSite,
  newViewer,
  refusal,
  rowsOf,
  type SizeId,
  setCompany,
} from './gas-world'

let siteId: string
let toSiteId: string
let hand: Viewer
let receiver: Viewer
let vehicleId: string

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  toSiteId = await newSite()
  receiver = await newViewer(toSiteId, 'yard_hand')
})
beforeEach(async () => {
  const one = await newViewer(siteId, 'yard_hand')
  hand = { ...one, grants: [...one.grants, { siteId: toSiteId, role: 'auditor' }] }
  vehicleId = await newVehicle()
})

const newVehicle = async (hasTrailer = false) =>
  (
    await addVehicle(hand, {
      key: uuidv7(),
      siteId,
      name: 'Flatbed',
      plate: uuidv7().slice(-10),
      body: 'open_bed',
      hasTrailer,
    })
  ).id

const start = async (over: object = {}) =>
  (
    await startTrip(hand, {
      key: uuidv7(),
      siteId,
      toSiteId,
      vehicleId,
      driverId: hand.personId,
      purpose: 'supports_principal_business',
      ...over,
    })
  ).id

const put = (tripId: string, serial: string, over: Record<string, string> = {}) =>
  loadCylinder(
    hand,
    loadCylinderSchema.parse({
      key: uuidv7(),
      tripId,
      serial,
      body: 'truck',
      weight: '',
      weightUnit: 'lb',
      ...over,
    }),
  )
const go = (tripId: string, over: object = {}) =>
  leave(
    hand,
    leaveSchema.parse({
      key: uuidv7(),
      tripId,
      checks: [...TRIP_CHECKS],
      other: '',
      otherUnit: 'lb',
      shippingPaperNo: '',
      ...over,
    }),
  )
/** As a wrong app would write it: every check ticked, nothing weighed against anything. */
const forceOut = (tripId: string, otherKg = 0) =>
  testDatabase().runtime.query(
    "UPDATE trips SET state = 'under_way', checks = $2, other_gross_kg = $3 WHERE id = $1",
    [tripId, JSON.stringify(TRIP_CHECKS), otherKg],
  )
/** Training for papers that covers today. */
const train = (driver: Viewer, until = '2099-01-01') =>
  insert('qualifications', {
    id: uuidv7(),
    person_id: driver.personId,
    kind: 'hazmat_driver',
    valid_from: '2020-01-01',
    valid_until: until,
    evidence: 'Course and test',
  })
const placeOf = async (id: string) =>
  (
    await rowsOf<{ site_id: string; status: string }>(
      'SELECT site_id, status FROM cylinders WHERE id = $1',
      [id],
    )
  )[0]
const fresh = (size: SizeId = 'oxygen-244') => cylinderAt(siteId, size, hand)

async function loaded(weights: readonly string[]) {
  const tripId = await start()
  const cylinders = []
  for (const weight of weights) {
    const cylinder = await fresh()
    await put(tripId, cylinder.serial, { weight })
    cylinders.push(cylinder)
  }
  return { tripId, cylinders }
}
const itemsOf = async (tripId: string) =>
  (await getTrip(hand, tripId)).items.filter((item) => !item.isOff).map((item) => item.id)

describe('a trip', () => {
  test('carries a cylinder from one site to the other, and at no time is it at both', async () => {
    const { tripId, cylinders } = await loaded(['160'])
    const id = cylinders[0]?.id ?? ''
    expect(await placeOf(id)).toMatchObject({ status: 'in_transit' })
    await go(tripId)
    const off = { key: uuidv7(), tripId, siteId: toSiteId, areaId: null }
    await unload(receiver, { ...off, items: await itemsOf(tripId) })
    expect(await placeOf(id)).toEqual({ site_id: toSiteId, status: 'full' })
    expect(await getTrip(hand, tripId)).toMatchObject({ state: 'ended' })
    const chains = await rowsOf<{ chain: string }>(
      'SELECT DISTINCT chain FROM audit_entries WHERE subject_id = $1',
      [tripId],
    )
    expect(chains.map((row) => row.chain).sort()).toEqual([siteId, toSiteId].sort())
  })

  test('weighs each by tare and contents, or by the scale', async () => {
    const tripId = await start()
    const cylinder = await fresh()
    await put(tripId, cylinder.serial, { weight: '151.5' })
    const [item] = (await getTrip(hand, tripId)).items
    expect(item).toMatchObject({ isWeighed: true })
    expect((await getTrip(hand, tripId)).verdict.aggregateLb).toBeCloseTo(151.5, 9)
    const other = await fresh()
    await put(tripId, other.serial)
    expect((await getTrip(hand, tripId)).verdict.aggregateLb).toBeGreaterThan(200)
  })

  test('says how much of each kind of hazard rides, as it is loaded', async () => {
    const { tripId } = await loaded(['150'])
    await put(tripId, (await fresh('acetylene-225')).serial, { weight: '190' })
    const { hazards } = await getTrip(hand, tripId)
    expect(hazards.map(({ hazard, un, cylinders }) => [hazard, un, cylinders])).toEqual([
      ['flammable', [1001], 1],
      ['oxidizing', [1072], 1],
    ])
    expect(hazards[0]?.grossLb).toBeCloseTo(190, 9)
  })

  test('takes no cylinder twice, none of another site, none that is on a trip', async () => {
    const { tripId, cylinders } = await loaded(['160'])
    await expect(put(tripId, cylinders[0]?.serial ?? '')).rejects.toEqual(
      refusal('CYLINDER_STATUS'),
    )
    const elsewhere = await cylinderAt(toSiteId, 'oxygen-244', receiver)
    await expect(put(tripId, elsewhere.serial)).rejects.toEqual(refusal('CYLINDER_UNKNOWN'))
    await expect(put(tripId, 'NO-SUCH')).rejects.toEqual(refusal('CYLINDER_UNKNOWN'))
  })

  test('rides on the trailer only where there is one; a vehicle is on one trip at a time', async () => {
    const tripId = await start()
    await expect(
      put(tripId, (await fresh()).serial, { body: 'trailer', weight: '160' }),
    ).rejects.toEqual(refusal('NO_TRAILER'))
    await expect(start()).rejects.toEqual(refusal('VEHICLE_OUT'))
    await expect(removeVehicle(hand, { key: uuidv7(), vehicleId })).rejects.toEqual(
      refusal('VEHICLE_OUT'),
    )
    vehicleId = await newVehicle(true)
    const other = await start()
    await put(other, (await fresh()).serial, { body: 'trailer', weight: '160' })
    expect((await getTrip(hand, other)).verdict.grossLb.trailer).toBeCloseTo(160, 9)
  })

  test('goes only from and to sites of the viewer’s', async () => {
    await expect(start({ toSiteId: await newSite() })).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(start({ toSiteId: siteId })).rejects.toEqual(refusal('SAME_SITE'))
    const stranger = await newViewer(await newSite(), 'yard_hand')
    const tripId = await start()
    await expect(getTrip(stranger, tripId)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(listTrips(stranger, siteId)).rejects.toEqual(refusal('NOT_FOUND'))
  })
})

describe('leaving', () => {
  // 49 CFR 173.6(a)(2) 220 lb (read), 173.6(d) 440 lb (from memory).
  test.each([
    [['220', '220'], null],
    [['221'], 'LOAD_CYLINDER_GROSS'],
    [['160', '160', '121'], 'LOAD_VEHICLE_GROSS'],
  ])('with %j lb is %s', async (weights, code) => {
    const { tripId } = await loaded(weights)
    if (code === null) await expect(go(tripId)).resolves.toEqual({ id: tripId })
    else {
      const refused = await go(tripId).catch((error: unknown) => error)
      expect(refused).toEqual(refusal(code))
      expect(refused).toMatchObject({
        params: { citation: expect.stringMatching(/^49 CFR 173\.6/) },
      })
      const papers = { shippingPaperNo: 'SP-14' }
      await expect(go(tripId, papers)).rejects.toEqual(refusal('LOAD_DRIVER_UNTRAINED'))
      await train(hand)
      await expect(go(tripId, papers)).resolves.toEqual({ id: tripId })
    }
  })

  test('names every open check at once, and an empty vehicle', async () => {
    const tripId = await start()
    const refused = (await go(tripId, { checks: ['capped'] }).catch((error: unknown) => error)) as {
      reasons: { code: string }[]
    }
    expect(refused.reasons.map((reason) => reason.code)).toEqual([
      'LOAD_EMPTY',
      ...TRIP_CHECKS.slice(1).map(() => 'LOAD_CHECK_OPEN'),
    ])
  })

  test('is the database’s to refuse too: a load past its limit or a check left open goes nowhere', async () => {
    const { tripId } = await loaded(['160', '160', '160'])
    const force = (checks: readonly string[], paper: string | null) =>
      testDatabase().owner.query(
        `UPDATE trips SET state = 'under_way', checks = $2, shipping_paper_no = $3, driver_trained = true WHERE id = $1`,
        [tripId, JSON.stringify(checks), paper],
      )
    await expect(force(TRIP_CHECKS, null)).rejects.toMatchObject({
      code: 'KW001',
      message: expect.stringContaining('LOAD_NEEDS_PAPERS'),
    })
    await expect(force(TRIP_CHECKS.slice(1), 'SP-1')).rejects.toMatchObject({
      message: expect.stringContaining('LOAD_CHECK_OPEN'),
    })
    await expect(force(TRIP_CHECKS, 'SP-1')).rejects.toMatchObject({
      message: expect.stringContaining('LOAD_DRIVER_UNTRAINED'),
    })
    await train(hand, '2020-12-31')
    await expect(force(TRIP_CHECKS, 'SP-1')).rejects.toMatchObject({
      message: expect.stringContaining('LOAD_DRIVER_UNTRAINED'),
    })
    await train(hand)
    await expect(force(TRIP_CHECKS, 'SP-1')).resolves.toBeTruthy()
  })

  // 49 CFR 172.504(c) (read): 1,001 lb in one body; truck and trailer each alone (171.8).
  test('at 1,001 lb in one body shows placards, in the app and in the database', async () => {
    await train(hand)
    const papers = { shippingPaperNo: 'SP-15' }
    const under = await loaded(['200', '200', '200', '200', '200.9'])
    await expect(go(under.tripId, papers)).resolves.toEqual({ id: under.tripId })
    vehicleId = await newVehicle(true)
    const over = await loaded(['200', '200', '200', '200', '201'])
    await expect(go(over.tripId, papers)).rejects.toEqual(refusal('LOAD_PLACARDS'))
    await expect(
      testDatabase().owner.query(
        `UPDATE trips SET state = 'under_way', checks = $2, shipping_paper_no = 'SP-15' WHERE id = $1`,
        [over.tripId, JSON.stringify(TRIP_CHECKS)],
      ),
    ).rejects.toMatchObject({ message: expect.stringContaining('LOAD_PLACARDS') })
    await expect(go(over.tripId, { ...papers, placardsShown: 'yes' })).resolves.toEqual({
      id: over.tripId,
    })
    vehicleId = await newVehicle(true)
    const parted = await loaded(['200', '200', '200', '200'])
    await put(parted.tripId, (await fresh()).serial, { weight: '219', body: 'trailer' })
    await expect(go(parted.tripId, papers)).resolves.toEqual({ id: parted.tripId })
  })

  test('stays where it is heavier than the vehicle’s own papers allow', async () => {
    await changeVehicle(
      hand,
      changeVehicleSchema.parse({
        key: uuidv7(),
        vehicleId,
        name: 'Small van',
        plate: uuidv7().slice(-10),
        body: 'ventilated_box',
        payload: '300',
      }),
    )
    const { tripId } = await loaded(['160', '140'])
    expect((await getTrip(hand, tripId)).payloadLb.truck).toBeCloseTo(300, 9)
    await expect(
      changeVehicle(
        hand,
        changeVehicleSchema.parse({
          key: uuidv7(),
          vehicleId,
          name: 'Small van',
          plate: 'X1',
          body: 'open_bed',
        }),
      ),
    ).rejects.toEqual(refusal('VEHICLE_OUT'))
    await put(tripId, (await fresh()).serial, { weight: '10' })
    await expect(go(tripId)).rejects.toMatchObject({ code: 'LOAD_PAYLOAD' })
    await expect(forceOut(tripId)).rejects.toMatchObject({
      code: 'KW001',
      message: expect.stringContaining('LOAD_PAYLOAD'),
    })
    await testDatabase().owner.query('UPDATE vehicles SET payload_kg = 150 WHERE id = $1', [
      vehicleId,
    ])
    await expect(forceOut(tripId, 20)).rejects.toMatchObject({
      message: expect.stringContaining('LOAD_PAYLOAD'),
    })
    await expect(go(tripId)).resolves.toEqual({ id: tripId })
  })

  test('counts each body against its own papers', async () => {
    vehicleId = await newVehicle(true)
    await testDatabase().owner.query(
      'UPDATE vehicles SET payload_kg = 1000, trailer_payload_kg = 80 WHERE id = $1',
      [vehicleId],
    )
    const { tripId } = await loaded(['200'])
    const { serial } = await fresh()
    await put(tripId, serial, { weight: '180', body: 'trailer' })
    await expect(forceOut(tripId)).rejects.toMatchObject({
      message: expect.stringContaining('LOAD_PAYLOAD'),
      detail: expect.stringContaining('trailer'),
    })
  })

  test('is not said anew on the road', async () => {
    const { tripId } = await loaded(['160'])
    await go(tripId)
    for (const change of ["checks = '[]'", 'other_gross_kg = 5', "shipping_paper_no = 'SP-9'"])
      await expect(
        testDatabase().runtime.query(`UPDATE trips SET ${change} WHERE id = $1`, [tripId]),
      ).rejects.toMatchObject({ message: expect.stringContaining('TRIP_STATE') })
  })

  test('takes the driver’s training from the record, whoever says otherwise', async () => {
    const { tripId } = await loaded(['160'])
    await expect(
      testDatabase().runtime.query('UPDATE trips SET driver_trained = true WHERE id = $1', [
        tripId,
      ]),
    ).rejects.toThrow()
    expect((await getTrip(hand, tripId)).isDriverTrained).toBe(false)
    await train(hand)
    expect((await getTrip(hand, tripId)).isDriverTrained).toBe(true)
  })

  // Published: the transport vectors of test/vectors/rules/permit-decision-vectors.json.
  const loads = vectors.filter(
    (one) => one.kind === 'transport' && 'cylinders_gross_lb' in (one.input ?? {}),
  )
  test.each(loads.map((one) => [one.id, one] as const))('%s', async (_id, one) => {
    const input = one.input as { cylinders_gross_lb: number[]; purpose: string }
    const { mot } = one.expected as unknown as { mot: boolean }
    const tripId = await start({ purpose: input.purpose })
    for (const pounds of input.cylinders_gross_lb)
      await put(tripId, (await fresh()).serial, { weight: String(pounds) })
    expect((await getTrip(hand, tripId)).verdict.isMaterialOfTrade).toBe(mot)
    if (mot) await expect(go(tripId)).resolves.toEqual({ id: tripId })
    else
      await expect(go(tripId)).rejects.toMatchObject({
        code: expect.stringMatching(/^LOAD_/),
        params: { citation: expect.stringMatching(/^49 CFR 17[13]\./) },
      })
  })
  test('are all four', () => expect(loads).toHaveLength(4))

  const bodies = vectors.filter(
    (one) => one.kind === 'transport' && 'transport_vehicles' in (one.input ?? {}),
  )
  test.each(bodies.map((one) => [one.id, one] as const))('%s', async (_id, one) => {
    const input = one.input as { transport_vehicles: { table2_gross_lb: number }[] }
    const [truck, trailer] = input.transport_vehicles
    const { placard } = one.expected as unknown as { placard: boolean[] }
    vehicleId = await newVehicle(trailer !== undefined)
    // No material of trade: more than 440 lb ride.
    const tripId = await start()
    for (const [body, of] of [
      ['truck', truck],
      ['trailer', trailer],
    ] as const)
      for (let left = of?.table2_gross_lb ?? 0; left > 0; left -= 200)
        await put(tripId, (await fresh()).serial, { body, weight: String(Math.min(200, left)) })
    expect((await getTrip(hand, tripId)).verdict.placarded).toEqual(placard[0] ? ['truck'] : [])
    await train(hand)
    const gone = go(tripId, { shippingPaperNo: 'SP-16' })
    if (placard[0]) await expect(gone).rejects.toEqual(refusal('LOAD_PLACARDS'))
    else await expect(gone).resolves.toEqual({ id: tripId })
  })
  test('are all three', () => expect(bodies).toHaveLength(3))

  // xv-009 and xv-010 lie down: 29 CFR 1926.350(a)(4) and 49 CFR 173.301(a) let neither leave from here.
  test('a load that does not stand upright goes nowhere', async () => {
    const lying = vectors.filter((one) => one.input?.orientation === 'horizontal')
    expect(lying.map((one) => one.id)).toEqual([
      'xv-009-construction-horizontal',
      'xv-010-acetylene-horizontal',
    ])
    const { tripId } = await loaded(['160'])
    const refused = await go(tripId, {
      checks: TRIP_CHECKS.filter((check) => check !== 'upright'),
    }).catch((error: unknown) => error)
    expect(refused).toMatchObject({
      code: 'LOAD_CHECK_OPEN',
      params: { check: 'upright', citation: expect.stringContaining('1926.350') },
    })
  })
})

describe('unloading', () => {
  test('is done by who may move cylinders there, each once', async () => {
    const { tripId } = await loaded(['100', '100'])
    await go(tripId)
    const [first, second] = await itemsOf(tripId)
    const off = (items: readonly (string | undefined)[], by = receiver, at = toSiteId) =>
      unload(by, {
        key: uuidv7(),
        tripId,
        siteId: at,
        areaId: null,
        items: items.filter((item) => item !== undefined),
      })
    await expect(off([first], hand)).rejects.toEqual(refusal('FORBIDDEN'))
    await off([first])
    expect(await getTrip(hand, tripId)).toMatchObject({ state: 'under_way' })
    await expect(off([first])).rejects.toEqual(refusal('CYLINDER_STATUS'))
    await off([second], hand, siteId)
    expect(await getTrip(hand, tripId)).toMatchObject({ state: 'ended' })
  })

  test('never leaves a cylinder on a trip that has ended', async () => {
    const { tripId } = await loaded(['100'])
    await expect(
      testDatabase().owner.query("UPDATE trips SET state = 'ended' WHERE id = $1", [tripId]),
    ).rejects.toMatchObject({ message: expect.stringContaining('TRIP_STILL_LOADED') })
    await expect(
      insert('trip_items', {
        id: uuidv7(),
        trip_id: tripId,
        site_id: siteId,
        cylinder_id: (await fresh()).id,
        body: 'truck',
        gross_kg: 70,
      }),
    ).rejects.toMatchObject({ message: expect.stringContaining('NOT_LOADED') })
  })
})

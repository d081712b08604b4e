import { describe, expect, test } from 'vitest'
import {
  checkAmount,
  checkLpgOutdoors,
  checkManifold,
  checkOccupancy,
  controlAreaLimit,
  countedFt3,
} from '@/lib/rules/amounts'
import { findingsInForce, isMet, type StoreFinding, storeScopes } from '@/lib/rules/finding'
import { checkStanding, type StandingCylinder } from '@/lib/rules/handling'
import { checkRack, type Rack, type RackCylinders } from '@/lib/rules/rack'
import {
  checkCart,
  checkPlace,
  checkSeparation,
  type StorePlace,
  storageStatus,
} from '@/lib/rules/storage'
import { STORE_RULES } from '@/lib/rules/store-catalogue'

const failing = (findings: readonly StoreFinding[]) =>
  findings.filter((one) => one.verdict !== 'ok').map((one) => one.ruleId)

test('every limit is a number beside a citation, and what was not read says so', () => {
  for (const rule of Object.values(STORE_RULES)) {
    expect(rule.citation).not.toBe('')
    expect(Object.values(rule.limits).every((value) => Number.isFinite(value))).toBe(true)
    if (rule.sourceTitle === null) expect(rule.provenance).toBe('memory')
  }
})

describe('separation', () => {
  test('what nobody measured is not apart', () => {
    const findings = checkSeparation({ distanceFt: null, barrier: null })
    expect(findings.every((one) => one.verdict === 'not_ok')).toBe(true)
    expect(isMet(checkSeparation({ distanceFt: Number.NaN, barrier: null }), 'us-osha-1910')).toBe(
      false,
    )
  })

  test('the fire code takes a partition that reaches 18 in above and beside, rated or not', () => {
    const barrier = {
      isNoncombustible: true,
      ratingMin: 0,
      heightFt: 7,
      aboveFt: 1.5,
      besideFt: 1.5,
    }
    const findings = checkSeparation({ distanceFt: 2, barrier })
    expect(isMet(findings, 'us-ifc-2018')).toBe(true)
    // Noncombustible is not rated: both texts hold at once.
    expect(isMet(findings, 'us-osha-1910')).toBe(false)
    const short = { ...barrier, besideFt: 1.4 }
    expect(isMet(checkSeparation({ distanceFt: 2, barrier: short }), 'us-ifc-2018')).toBe(false)
  })

  test('gas cabinets serve the fire code alone', () => {
    const findings = checkSeparation({ distanceFt: 2, barrier: null, isInGasCabinets: true })
    expect([isMet(findings, 'us-ifc-2018'), isMet(findings, 'us-osha-1926')]).toEqual([true, false])
  })
})

test('the same cart is stored for one text and in use for the other', () => {
  const rest = { regulatorsFitted: true, expectedUseWithinHours: 25 }
  const stored = Object.fromEntries(storageStatus(rest).map((one) => [one.ruleId, one.isStored]))
  expect(stored).toMatchObject({
    'osha1910-in-use-or-connected': false,
    'osha1926-in-storage-24h': true,
  })
  expect(storageStatus({ ...rest, expectedUseWithinHours: 24 })[1]?.isStored).toBe(false)
  expect(storageStatus({ ...rest, expectedUseWithinHours: null })[1]?.isStored).toBe(true)
})

test('a pair on a cart is the fire code’s exception, and a person’s judgement under OSHA’s letter', () => {
  const cart = {
    oxygenCylinders: 1,
    fuelCylinders: 1,
    isConnectedToRegulators: true,
    isSecured: true,
    isKeptFromTheWork: true,
    hasKeysOnStems: true,
    areValvesClosedWhenIdle: true,
  }
  expect(checkCart(cart).map((one) => one.verdict)).toEqual(['ok', 'judgement'])
  expect(checkCart({ ...cart, fuelCylinders: 2 }).map((one) => one.verdict)).toEqual([
    'not_ok',
    'not_ok',
  ])
  expect(checkCart({ ...cart, hasKeysOnStems: false })[0]?.verdict).toBe('not_ok')
})

const PLACE: StorePlace = {
  isIndoors: true,
  isVentilated: true,
  isDry: true,
  isLocker: false,
  isAwayFromHeatAndExits: true,
  isSafeFromTampering: true,
  highlyCombustibleFt: 20,
  vegetationFt: null,
  noSmokingSignsWithinFt: 25,
  dropPartOfHeight: 0.5,
  hottestF: 125,
  holdsFuelGas: true,
}

test('a place is fit at its limits and unfit past each of them', () => {
  expect(failing(checkPlace(PLACE))).toEqual([])
  expect(failing(checkPlace({ ...PLACE, highlyCombustibleFt: 19.9 }))).toHaveLength(2)
  expect(failing(checkPlace({ ...PLACE, isLocker: true }))).toHaveLength(2)
  expect(failing(checkPlace({ ...PLACE, dropPartOfHeight: 0.51 }))).toEqual([
    'ifc-drop-half-height',
  ])
  expect(failing(checkPlace({ ...PLACE, hottestF: 125.1 }))).toEqual(['ifc-temperature-125'])
  expect(failing(checkPlace({ ...PLACE, noSmokingSignsWithinFt: null }))).toEqual([
    'ifc-no-smoking-25ft',
  ])
  const yard = { ...PLACE, isIndoors: false, vegetationFt: 10 }
  expect(failing(checkPlace(yard))).toEqual([])
  expect(failing(checkPlace({ ...yard, vegetationFt: 9.9 }))).toEqual(['ifc-vegetation-10ft'])
})

describe('amounts', () => {
  test.each([
    [false, false, 1000],
    [true, false, 2000],
    [false, true, 2000],
    [true, true, 4000],
  ])('sprinklers %s and cabinets %s multiply', (isSprinklered, isInGasCabinets, maqFt3) => {
    const area = { gas: 'flammable' as const, isSprinklered, isInGasCabinets }
    expect(controlAreaLimit(area).maqFt3).toBe(maqFt3)
  })

  test('outdoors the table is another, and inert gas has none', () => {
    const area = { isOutdoors: true, isSprinklered: true, isInGasCabinets: true }
    expect(controlAreaLimit({ ...area, gas: 'oxidizing' }).maqFt3).toBe(6000)
    expect(controlAreaLimit({ ...area, gas: 'inert' }).maqFt3).toBeNull()
    expect(failing(checkAmount({ ...area, gas: 'inert' }, 6001))).toEqual([
      'ifc-permit-thresholds-gas',
    ])
  })

  test('a purged cylinder holds nothing; every other counts as full', () => {
    const one = { nominalFt3: 250, count: 1 }
    const states = (['full', 'part', 'empty', 'purged'] as const).map((state) => ({
      ...one,
      state,
    }))
    expect(countedFt3(states)).toBe(750)
  })

  test('small single cylinders alone may stand in offices and schools', () => {
    const use = 'assembly_school_care_home_office'
    expect(failing(checkOccupancy(use, 'flammable', { ft3: 250, liquefiedLb: 40 }))).toEqual([])
    expect(failing(checkOccupancy(use, 'oxidizing', { ft3: 251, liquefiedLb: 0 }))).toHaveLength(1)
    expect(checkOccupancy('other', 'flammable', { ft3: 9999, liquefiedLb: 0 })).toEqual([])
  })

  test('manifolds: amount, pressure, spacing and what stands near', () => {
    const oxygen = { gas: 'oxygen', connectedFt3: 6001 } as const
    expect(failing(checkManifold(oxygen))).toEqual(['osha1910-oxygen-manifold-6000'])
    expect(failing(checkManifold({ ...oxygen, servicePsig: 250 }))).toEqual([])
    expect(failing(checkManifold({ ...oxygen, servicePsig: 251 }))).toHaveLength(1)
    expect(
      failing(checkManifold({ ...oxygen, connectedFt3: 13_001, servicePsig: 200 })),
    ).toHaveLength(2)
    const near = { gas: 'oxygen', connectedFt3: 100, fuelOrCombustiblesFt: 19 } as const
    expect(failing(checkManifold(near))).toEqual(['osha1910-oxygen-manifold-20ft'])
    const wall = {
      isNoncombustible: true,
      ratingMin: 30,
      heightFt: 5,
      aboveFt: null,
      besideFt: null,
    }
    expect(failing(checkManifold({ ...near, barrier: wall }))).toEqual([])
    const fuel = { gas: 'fuel', connectedFt3: 3000, nextManifoldFt: 49 } as const
    expect(failing(checkManifold(fuel))).toEqual(['osha1910-fuel-manifold-3000'])
    expect(failing(checkManifold({ ...fuel, nextManifoldFt: 50 }))).toEqual([])
    expect(failing(checkManifold({ gas: 'fuel', connectedFt3: 0, lpgLb: 301 }))).toHaveLength(1)
  })

  test.each([
    [500, 0],
    [501, 10],
    [6000, 10],
    [6001, 20],
    [10_000, 20],
    [10_001, 25],
  ])('%d lb of LP-gas outside keeps %d ft from a building', (lpgLb, leastFt) => {
    const [building] = checkLpgOutdoors({
      lpgLb,
      buildingFt: leastFt,
      doorFt: 10,
      hasSingleExit: true,
      combustiblesFt: 10,
      dispensersFt: null,
      extinguisherRatingB: 20,
    })
    expect(building).toMatchObject({ verdict: 'ok', params: { leastFt } })
  })

  test('above 720 lb a table that was not read decides, so a person answers', () => {
    const findings = checkLpgOutdoors({
      lpgLb: 721,
      buildingFt: 100,
      doorFt: 100,
      hasSingleExit: false,
      combustiblesFt: 100,
      dispensersFt: 100,
      extinguisherRatingB: 19,
    })
    expect(findings.map((one) => one.verdict)).toEqual(['ok', 'judgement', 'not_ok'])
  })
})

const OXYGEN: RackCylinders = {
  kind: 'oxidizing',
  isLpg: false,
  nominalFt3: 250,
  lpgLb: 0,
  state: 'full',
  isConnected: false,
  count: 6,
}
const RACK: Rack = {
  isIndoors: true,
  isSprinklered: false,
  isInGasCabinets: false,
  occupancy: 'other',
  cylinders: [OXYGEN],
  separation: null,
}

describe('a rack', () => {
  test('six oxygen cylinders of 250 cu ft are the most of a control area, and need the official’s permit', () => {
    expect(failing(checkRack(RACK))).toEqual(['ifc-permit-thresholds-gas'])
    const seven = checkRack({ ...RACK, cylinders: [{ ...OXYGEN, count: 7 }] })
    expect(failing(seven)).toEqual(['ifc-maq-oxidizing-gas', 'ifc-permit-thresholds-gas'])
  })

  test('fuel beside oxygen asks for distance, and says nothing of it where one is connected', () => {
    const acetylene: RackCylinders = { ...OXYGEN, kind: 'flammable', count: 1, nominalFt3: 130 }
    const mixed = { ...RACK, cylinders: [{ ...OXYGEN, count: 1 }, acetylene] }
    expect(failing(checkRack(mixed))).toContain('osha1926-oxygen-separation')
    const apart = { ...mixed, separation: { distanceFt: 20, barrier: null } }
    expect(failing(checkRack(apart))).toEqual([])
    const inUse = { ...mixed, cylinders: [OXYGEN, { ...acetylene, isConnected: true }] }
    expect(failing(checkRack(inUse))).not.toContain('osha1926-oxygen-separation')
  })

  test('empties of LP-gas count as full, and construction keeps none inside', () => {
    const propane: RackCylinders = {
      kind: 'flammable',
      isLpg: true,
      nominalFt3: 0,
      lpgLb: 100,
      state: 'empty',
      isConnected: false,
      count: 4,
    }
    const findings = checkRack({ ...RACK, cylinders: [propane] })
    expect(failing(findings)).toEqual([
      'osha1910-fuel-indoor-2000',
      'osha1926-lpg-no-indoor-storage',
      'nfpa58-indoor-300lb',
    ])
    const general = findingsInForce(findings, storeScopes(['us-osha-1910', 'us-ifc-2018']))
    expect(failing(general)).toEqual(['osha1910-fuel-indoor-2000', 'nfpa58-indoor-300lb'])
    expect(failing(findingsInForce(findings, storeScopes(['ca-nfc'])))).toEqual([])
    expect(failing(checkRack({ ...RACK, isIndoors: false, cylinders: [propane] }))).toEqual([])
  })
})

const STANDING: StandingCylinder = {
  gas: 'acetylene',
  use: 'stored',
  tiltDeg: 0,
  isSecured: true,
  takesCap: true,
  isCapOn: true,
  isValveClosed: true,
  isEmpty: false,
  waterCapacityLb: 90,
}

describe('one cylinder', () => {
  test('stands upright to 45 degrees, secured and capped', () => {
    expect(failing(checkStanding(STANDING))).toEqual([])
    expect(failing(checkStanding({ ...STANDING, tiltDeg: 45 }))).toEqual([])
    expect(failing(checkStanding({ ...STANDING, tiltDeg: 46 }))).toEqual([
      'osha1926-upright-always',
      'ifc-upright-45',
      'osha1910-acetylene-valve-up',
    ])
    expect(failing(checkStanding({ ...STANDING, isSecured: false }))).toEqual([
      'osha1926-upright-always',
      'ifc-secure-cylinders',
    ])
    expect(failing(checkStanding({ ...STANDING, isCapOn: false }))).toHaveLength(3)
  })

  test('in use it wears no cap, hoisted it may lean, small it may lie', () => {
    expect(failing(checkStanding({ ...STANDING, use: 'in_use', isCapOn: false }))).toEqual([])
    expect(failing(checkStanding({ ...STANDING, use: 'hoisted_or_carried', tiltDeg: 80 }))).toEqual(
      [],
    )
    const small = { ...STANDING, gas: 'inert', tiltDeg: 90, waterCapacityLb: 10 } as const
    expect(failing(checkStanding(small))).toEqual(['osha1926-upright-always'])
  })

  test('empty, its valve is shut', () => {
    const open = { ...STANDING, isEmpty: true, isValveClosed: false }
    expect(failing(checkStanding(open))).toEqual(['osha1910-empty-valves-closed'])
  })
})

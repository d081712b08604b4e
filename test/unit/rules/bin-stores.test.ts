import { expect, test } from 'vitest'
import { STORE_FUNCTIONS } from '@/bin/calc-functions/stores'

const held = { isSecured: true, isValveProtected: true }
const area = { gas: 'flammable', isSprinklered: true, isInGasCabinets: true }
const oxygen = { isLpg: false, lpgLb: 0, state: 'full', isConnected: false }
const notOk = (ruleId: string) =>
  expect.arrayContaining([expect.objectContaining({ ruleId, verdict: 'not_ok' })])

const INPUTS: Readonly<Record<string, readonly [input: unknown, answer: object]>> = {
  'store-rack': [
    {
      isIndoors: true,
      isSprinklered: false,
      isInGasCabinets: false,
      occupancy: 'other',
      cylinders: [{ ...oxygen, kind: 'oxidizing', nominalFt3: 251, count: 6 }],
      separation: null,
    },
    { findings: notOk('ifc-maq-oxidizing-gas') },
  ],
  'store-control-area': [{ area, quantityFt3: 3999 }, { maqFt3: 4000 }],
  'store-separation': [
    { distanceFt: 19.9, barrier: null },
    { findings: notOk('osha1926-oxygen-separation') },
  ],
  'store-status': [
    { regulatorsFitted: true, expectedUseWithinHours: 72 },
    { texts: expect.arrayContaining([{ ruleId: 'osha1926-in-storage-24h', isStored: true }]) },
  ],
  'store-cart': [
    {
      oxygenCylinders: 1,
      fuelCylinders: 2,
      isConnectedToRegulators: true,
      isSecured: true,
      isKeptFromTheWork: true,
      hasKeysOnStems: true,
      areValvesClosedWhenIdle: true,
    },
    { findings: notOk('ifc-cart-exception') },
  ],
  'store-place': [
    {
      isIndoors: false,
      isVentilated: true,
      isDry: true,
      isLocker: false,
      isAwayFromHeatAndExits: true,
      isSafeFromTampering: true,
      highlyCombustibleFt: null,
      vegetationFt: 9,
      noSmokingSignsWithinFt: 25,
      dropPartOfHeight: 0,
      hottestF: null,
      holdsFuelGas: true,
    },
    { findings: notOk('ifc-vegetation-10ft') },
  ],
  'store-fuel-indoors': [
    { fuelGasStoredFt3: 2001, lpgLb: 0 },
    { findings: notOk('osha1910-fuel-indoor-2000') },
  ],
  'store-lpg-outdoors': [
    {
      lpgLb: 501,
      buildingFt: 9,
      doorFt: 10,
      hasSingleExit: false,
      combustiblesFt: 10,
      dispensersFt: null,
      extinguisherRatingB: 20,
    },
    { findings: notOk('osha1926-lpg-outdoor-distance') },
  ],
  'store-manifold': [
    { gas: 'fuel', connectedFt3: 3100 },
    { findings: notOk('osha1910-fuel-manifold-3000') },
  ],
  'store-standing': [
    {
      gas: 'acetylene',
      use: 'stored',
      tiltDeg: 90,
      isSecured: true,
      takesCap: true,
      isCapOn: true,
      isValveClosed: true,
      isEmpty: false,
      waterCapacityLb: 90,
    },
    { findings: notOk('osha1910-acetylene-valve-up') },
  ],
  'road-materials-of-trade': [
    {
      carrier: 'private',
      purpose: 'supports_principal_business',
      cylindersGrossLb: [221],
      otherGrossLb: 0,
    },
    { isMaterialOfTrade: false, needsShippingPaper: true, aggregateLb: 221 },
  ],
  'road-trade-conditions': [
    { areMarkedAndInDate: true, areSecured: true, areValvesClosed: false, isDriverTold: true },
    { findings: notOk('dot-mot-conditions') },
  ],
  'road-placards': [{ table2GrossLb: [800, 1001] }, { bodies: [false, true] }],
  'road-ride': [
    { ...held, gas: 'acetylene', orientation: 'horizontal' },
    { findings: notOk('dot-relief-device-vapor-21') },
  ],
  'road-empty': [{ isPurged: false, isFlammable: true, residualKpaAbs: 101 }, { isHazmat: true }],
  'road-adr': [
    {
      items: [
        { category: 2, quantity: 150 },
        { category: 3, quantity: 500 },
      ],
      duties: {
        isDriverTrainedAndRecorded: true,
        extinguisherKg: 2,
        isStowed: true,
        isVentilatedOrMarked: true,
      },
    },
    { points: 950, isSmallLoad: true },
  ],
  requalification: [
    {
      spec: '3AA',
      manufactured: null,
      last: '2021-03',
      isStarred: false,
      gas: 'oxygen',
      condition: 'sound',
      filled: '2026-02',
      today: '2026-08-15',
    },
    { due: '2026-03', mayFill: false, mayUseContents: true },
  ],
  'lens-shade': [{ process: 'oxyfuel_cutting', thicknessIn: 1 }, { minimum: 4 }],
}

test.each(Object.keys(STORE_FUNCTIONS))('%s answers, and refuses a mistyped name', (name) => {
  const [input, answer] = INPUTS[name] ?? [null, {}]
  const found = STORE_FUNCTIONS[name]
  expect(found?.run(input)).toMatchObject({ ok: true, outcome: answer })
  expect(found?.run({ ...(input as object), torch: 2 })).toMatchObject({ ok: false })
})

/** An input for every calculation of the gas groups, and what its answer must hold. */
const acetyleneKg = 8.4
const oxygenSize = { gas: 'oxygen', nominalKg: 9.16, waterVolumeL: 43 }
const gauge = { kind: 'gauge', gaugePressureKpa: 7000, temperatureK: 290 }
// Poisson of mean 6: 0.6063 at 6, 0.9161 at 9, 0.9574 at 10.
const demand = { mean: 6, variance: 6, kind: 'count' }
const RENTED = { serial: 'A1', sizeId: 'oxygen-244', fromDay: 20_469, toDay: null }
const RENT_TERMS = {
  freeDays: 10,
  rentMinorPerDay: 25,
  demurrageFromDay: 91,
  demurrageMinorPerDay: 60,
}
const weeklyOrder = { demand: 1300, fixedCost: 8, holding: 0.225 }
const pointTerms = {
  leadTime: { mean: 3, variance: 3, kind: 'count' },
  ratePerTime: 1.5,
  fixedCost: 100,
  costs: { holding: 20, shortage: 150 },
}
const hose = {
  gas: 'oxygen',
  flowM3PerS: 0.0008,
  bore: 'threeEighths',
  lengthM: 30,
  tipGaugePressureKpa: 275,
}
const held = {
  startGaugePressureKpa: 300,
  endGaugePressureKpa: 280,
  elapsedS: 300,
  resolutionKpa: 5,
}

export const CALC_INPUTS: Readonly<Record<string, readonly [input: unknown, answer: object]>> = {
  contents: [{ reading: gauge, size: oxygenSize }, { gas: 'oxygen' }],
  'pack-contents': [{ cylinders: 6, reading: gauge, size: oxygenSize }, { gas: 'oxygen' }],
  'liquid-contents': [
    { gas: 'oxygen', reading: { kind: 'weight', grossKg: 250, tareKg: 113 } },
    { gasKg: { mean: 137, unit: 'kg' } },
  ],
  'boil-off': [
    {
      capacityKg: 160,
      lossSharePerDay: 0.015,
      elapsedS: 86_400,
      before: { gasKg: 100, standardUncertaintyKg: 0.5 },
      after: { gasKg: 80, standardUncertaintyKg: 0.5 },
    },
    { found: { verdict: 'moreThanBoilOff' } },
  ],
  'gauge-at-temperature': [
    { gas: 'argon', gaugePressureKpa: 15_000, temperatureK: 294, toTemperatureK: 270 },
    { gaugePressureKpa: { unit: 'kPa' } },
  ],
  'volume-at-base': [
    { gas: 'acetylene', base: 'sixtyF', gasKg: 6.8 },
    { volumeM3: { unit: 'm³' } },
  ],
  'mass-from-base': [{ gas: 'propane', base: 'zeroC', volumeM3: 10 }, { gasKg: { unit: 'kg' } }],
  'nominal-check': [{ gas: 'oxygen', nominalM3: 6.9, emptyKg: 54, fullKg: 63.2 }, { agrees: true }],
  'propane-capacity': [{ waterCapacityKg: 21.6 }, { fillingDensity: 0.42 }],
  'propane-liquid': [
    { containerVolumeM3: 0.378, specificGravity: 0.51, volumeFactor: 1.031 },
    { liquidM3: { unit: 'm³' } },
  ],
  'propane-pressure': [{ temperatureK: 270 }, { gaugePressureKpa: { unit: 'kPa' } }],
  'ideal-pressure': [
    { amountMol: 1, temperatureK: 273.15, volumeL: 22.413_969_54 },
    { pressureAbsKpa: expectClose(101.325) },
  ],
  'ideal-volume': [
    {
      volume: 1,
      from: { pressureAbsKpa: 100, temperatureK: 300 },
      to: { pressureAbsKpa: 200, temperatureK: 300 },
    },
    { volume: 0.5 },
  ],
  withdrawal: [
    { gas: 'acetylene', capacityKg: 6.9, drawM3PerS: 0.0002 },
    { cylindersOnManifold: 2 },
  ],
  'propane-winter': [
    { capacityKg: 45.359, remainingKg: 30, airTemperatureK: 270, drawM3PerS: 0.0001 },
    { cylindersNeeded: 1 },
  ],
  manifold: [
    { gas: 'acetylene', nominalKg: acetyleneKg, drawM3PerS: 0.001, place: 'indoors' },
    { cylinders: 5, manifolds: 1 },
  ],
  'run-time': [
    {
      size: oxygenSize,
      reading: gauge,
      drawM3PerS: 0.0005,
      changeAt: { gaugePressureKpa: 1000 },
    },
    { usableKg: { unit: 'kg' } },
  ],
  hose: [hose, { regulatorGaugePressureKpa: { unit: 'kPa' } }],
  'hose-longest': [hose, { longestM: 150 }],
  'hose-grade': [{ fuel: 'propane', grade: 'T' }, { grades: ['T'] }],
  'leak-test': [
    { gas: 'oxygen', hoses: [{ bore: 'quarter', lengthM: 15 }], ...held },
    { verdict: 'outOfService' },
  ],
  'leak-trend': [
    { points: [0, 10, 20].map((day) => ({ day, fallKpa: day / 10, uKpa: 0.2 })) },
    { verdict: 'rising' },
  ],
  'regulator-creep': [held, { verdict: 'pressureFell' }],
  'combustion-oxygen': [{ fuel: 'propane', fuelM3: 2.7 }, { completeM3: { mean: 13.5 } }],
  'flame-heat': [{ fuel: 'acetylene', fuelM3PerS: 0.0001 }, { heatW: { unit: 'W' } }],
  heating: [
    { fuel: 'propane', burnS: 600, need: { kind: 'steel', massKg: 20, riseK: 150 } },
    { withdrawal: null },
  ],
  'flame-work': [
    {
      work: 'welding',
      fuel: 'acetylene',
      fuelM3PerS: 0.0001,
      time: { lengthM: 1, speedMPerS: 0.001 },
    },
    { burnS: { mean: 1000, unit: 's' } },
  ],
  'shielding-gas': [
    {
      process: 'mig',
      flowM3PerS: 0.00028,
      weld: { kind: 'fillet', legM: 0.006 },
      lengthM: 4,
      deposit: { kind: 'wire', diameterM: 0.0012, feedMPerS: 0.12 },
    },
    { cylinders: null },
  ],
  'work-cost': [
    { currency: 'USD', gas: [{ code: 'oxygen', quantity: 2, unitPriceMinor: 300 }], cuts: 3 },
    { perCutMinor: { mean: 200 } },
  ],
  'real-gas': [{ gas: 'nitrogen', pressureAbsKpa: 15_000, temperatureK: 294.26 }, {}],
  'mass-of-gauge': [
    { gas: 'oxygen', gaugePressureKpa: 0, temperatureK: 294.2611, waterVolumeL: 1000 },
    { gasKg: expectClose(1.326) },
  ],
  'gauge-of-mass': [
    { gas: 'argon', gasKg: 0.001, temperatureK: 294, waterVolumeL: 50 },
    { gaugePressureKpa: 0 },
  ],
  'water-volume': [
    { gas: 'oxygen', nominalKg: 9.163, ratedGaugePressureKpa: 15_168 },
    { waterVolumeL: expectClose(43) },
  ],
  'acetylene-share': [
    { gaugePressureKpa: 1723.7, temperatureK: 294.25, ratedGaugePressureKpa: 1723.7 },
    { share: expectClose(1) },
  ],
  'acetylene-full-gauge': [
    { temperatureK: 294.25, ratedGaugePressureKpa: 1723.7 },
    { gaugePressureKpa: expectClose(1723.7) },
  ],
  'gauge-limit': [
    { gaugeClass: 'B', fullScaleKpa: 1000, gaugePressureKpa: 500 },
    { limitKpa: 20, provenance: 'from memory' },
  ],
  'hose-volume': [{ bore: 'quarter', lengthM: 7.62 }, { volumeL: expectClose(0.241) }],
  friction: [{ reynolds: 640, relativeRoughness: 0 }, { friction: expectClose(0.1) }],
  'oxygen-floor': [{ lengthM: 1, pathM: 0.0127 }, { oxygenKg: expectClose(0.02617) }],
  'oxygen-pressure-1916': [{ pathM: 0.0127 }, { pressure: { unit: 'kPa' } }],
  'time-to-change': [
    {
      contentsKg: 9,
      contentsStandardUncertaintyKg: 0.2,
      reserveKg: 1,
      needKg: 4,
      needStandardUncertaintyKg: 0.3,
      needS: 3600,
    },
    { middleS: 7200 },
  ],
  demand: [{ demand, level: 6 }, { covered: expectClose(0.6063) }],
  'demand-quantile': [{ demand, probability: 0.95 }, { level: 10 }],
  'order-level': [
    { demand, costs: { holding: 1, shortage: 19 } },
    { service: 0.95, level: 10 },
  ],
  'order-cost': [
    { lines: [{ quantity: 2, fillMinor: 3000 }], deliveryFeeMinor: 500 },
    { costMinor: 6500 },
  ],
  'demand-class': [
    { demand: [0, 2, 0, 2] },
    { demandClass: 'intermittent', interval: 2, sizeCv2: 0 },
  ],
  'demand-methods': [{ demand: [0, 2, 0, 2] }, { means: { zero: 0, mean: 1, croston: 1 } }],
  'demand-backtest': [
    { series: [new Array(60).fill(3)] },
    { series: 1, byClass: [{ demandClass: 'smooth', bias: expectClose(1) }] },
  ],
  'demand-bound': [
    { mean: 4, variance: 4, scores: [-1, -1, 0, 0, 0, 0, 1, 1, 2], probability: 0.9 },
    { score: 2, bound: 8 },
  ],
  'demand-adapt': [{ alpha: 0.05, target: 0.05, missed: true }, { alpha: expectClose(0.0405) }],
  'forecast-errors': [
    {
      pairs: [{ forecast: 2, actual: 4, bound: 5 }],
      history: [1, 3, 1],
      probability: 0.9,
    },
    { mase: 1, rmsse: 1, bias: 0.5, pinball: expectClose(0.1), coverage: { share: 1 } },
  ],
  'site-prior': [
    { site: { fuel: 'propane', process: 'hand', crewPeople: 2, indoors: false }, others: [] },
    { sites: 0, cylinders: 0.5, days: 10 },
  ],
  rent: [
    { stay: RENTED, terms: RENT_TERMS, period: { fromDay: 20_544, toDay: 20_573 } },
    { rentDays: 15, demurrageDays: 15, amountMinor: 1275 },
  ],
  'rent-by-day': [
    {
      stay: RENTED,
      terms: [
        { ...RENT_TERMS, validFromDay: 0 },
        { ...RENT_TERMS, demurrageMinorPerDay: 70, validFromDay: 20_569 },
      ],
      period: { fromDay: 20_544, toDay: 20_573 },
    },
    { rentDays: 15, demurrageDays: 15, amountMinor: 1275 + 5 * 10, unknownDays: 0 },
  ],
  'rent-stays': [
    {
      siteId: 'yard',
      entries: [
        { kind: 'received', siteId: 'yard', toSiteId: null, day: 1 },
        { kind: 'moved', siteId: 'yard', toSiteId: 'ship', day: 5 },
      ].map((one) => ({
        ...{ cylinderId: 'c', serial: 'A1', sizeId: 'oxygen-244', supplierId: null },
        ...one,
      })),
    },
    {
      stays: [
        {
          ...{ cylinderId: 'c', serial: 'A1', sizeId: 'oxygen-244', supplierId: null },
          ...{ rentFromDay: 1, fromDay: 1, toDay: 4 },
        },
      ],
    },
  ],
  'holding-cost': [
    {
      held: [{ stay: RENTED, terms: [{ ...RENT_TERMS, validFromDay: 0 }], days: [20_558, 20_559] }],
      drawn: [{ kg: 2, minorPerKg: 400 }],
      lost: [{ count: 1, depositMinor: 18_000 }],
    },
    { rentMinor: 25, demurrageMinor: 60, totalMinor: 25 + 60 + 800 + 18_000 },
  ],
  'gas-drawn': [
    ['put_on', 'read'].map((kind, at) => ({
      cylinderId: 'c',
      day: 1,
      siteId: 's',
      jobId: null,
      kind,
      contentsKg: 9 - 3 * at,
      markedEmpty: false,
      nominalKg: 9,
      heelKg: 0.5,
    })),
    { drawn: [{ cylinderId: 'c', siteId: 's', jobId: null, day: 1, kg: 3 }] },
  ],
  'rental-statement': [
    {
      rows: [{ row: 1, serial: 'A1', days: 30, amountMinor: 1300 }],
      stays: [RENTED],
      ours: ['A1'],
      termsBySize: { 'oxygen-244': [{ ...RENT_TERMS, validFromDay: 0 }] },
      period: { fromDay: 20_544, toDay: 20_573 },
      toleranceMinor: 1,
    },
    { disputeMinor: 25 },
  ],
  'supplier-invoice': [
    {
      rows: [
        { row: 1, item: { kind: 'fill', sizeId: 'oxygen-244' }, quantity: 3, amountMinor: 9_600 },
        { row: 2, item: { kind: 'fee' }, quantity: 1, amountMinor: 4_500 },
      ],
      received: [
        { serial: 'A1', sizeId: 'oxygen-244' },
        { serial: 'A2', sizeId: 'oxygen-244' },
      ],
      notPaid: [],
      fillBySize: { 'oxygen-244': 3_200 },
      depositBySize: {},
      feeMinor: 3_500,
      toleranceMinor: 1,
    },
    { askedMinor: 14_100, oursMinor: 9_900, disputeMinor: 4_200 },
  ],
  'order-quantity': [{ ...weeklyOrder, quantity: 250 }, { quantity: expectClose(304.05) }],
  'order-quantity-breaks': [
    {
      demand: 1300,
      fixedCost: 8,
      holdingShare: 0.3,
      breaks: [
        { from: 0, price: 0.75 },
        { from: 400, price: 0.72 },
        { from: 800, price: 0.68 },
      ],
    },
    { allUnits: { quantity: 800 }, pastBreak: { quantity: expectClose(304.05) } },
  ],
  'order-quantity-waiting': [{ ...weeklyOrder, waiting: 5 }, { quantity: expectClose(310.8) }],
  'order-for-known-work': [
    { demand: [90, 120, 80, 70], fixedCost: 500, holding: 2 },
    { orders: [210, 0, 150, 0], cost: 1380 },
  ],
  'order-in-pallets': [
    { amount: 21, perCylinder: 4, multiple: 4 },
    { cylinders: 8, beyond: 11 },
  ],
  'order-point': [
    {
      perDay: { mean: 2500, variance: 250_000 },
      leadDays: { mean: 6, variance: 0 },
      kind: 'amount',
      service: 0.9,
      fillRate: 0.99,
      quantity: 20_000,
    },
    { byService: { point: expectClose(16_569.57) } },
  ],
  'order-point-and-quantity': [pointTerms, { best: { point: 3, quantity: 5 }, quick: null }],
  'order-point-cost': [
    { ...pointTerms, point: 8, quantity: 12 },
    { cost: expectClose(242.528), bestPoint: null },
  ],
  'order-min-max': [
    { demand, period: demand, fixedCost: 5, costs: { holding: 1, shortage: 4 } },
    { best: { min: 4, max: 10 }, costAsked: null },
  ],
  'rent-or-run-out': [
    {
      ratePerDay: 0.3,
      rentPerDay: 1.2,
      demurragePerDay: 4,
      freeDays: 20,
      nth: 5,
      downtimeCost: 0,
      untilDelivery: demand,
      most: 9,
    },
    { nth: { cost: expectClose(26.907) }, keep: 0 },
  ],
  'means-together': [
    {
      observations: [
        [1, 3],
        [2, 6],
      ],
    },
    {
      means: [2, 4],
      correlations: [
        [1, 1],
        [1, 1],
      ],
    },
  ],
  'combined-uncertainty': [
    {
      standardUncertainties: [3, 4],
      correlations: [
        [1, 0],
        [0, 1],
      ],
      means: [0],
      sensitivities: [[1, 1]],
    },
    { standardUncertainties: [expectClose(5)] },
  ],
  'effective-freedom': [
    {
      parts: [
        { standardUncertainty: 3, degreesOfFreedom: 16 },
        { standardUncertainty: 0, degreesOfFreedom: null },
      ],
      coverage: 0.99,
    },
    { degreesOfFreedom: expectClose(16), factor: expectClose(2.9208) },
  ],
  convert: [
    { value: 1, from: 'ft', to: 'm' },
    { value: 0.3048, unit: 'm' },
  ],
  temperature: [
    { value: 70, from: 'F', to: 'C' },
    { value: expectClose(21.111), unit: 'C' },
  ],
  'gas-mass': [{ gas: 'oxygen', volumeFt3: 12.079 }, { gasKg: expectClose(0.4536) }],
  'gas-volume': [{ gas: 'argon', gasKg: 0.453_592_37 }, { volumeFt3: expectClose(9.676) }],
}

/** A number within a share of another: an asymmetric matcher, so that `toMatchObject` takes it. */
function expectClose(value: number, share = 0.002): unknown {
  return {
    asymmetricMatch: (found: unknown) =>
      typeof found === 'number' && Math.abs(found / value - 1) <= share,
    toString: () => `near ${value}`,
  }
}

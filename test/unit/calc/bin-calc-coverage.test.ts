import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { CUT_TERM_FUNCTIONS } from '@/bin/calc-functions/cut-terms'
import { WATCHING_FUNCTIONS } from '@/bin/calc-functions/watching'

/** Exported functions that bin/calc doesn't name, by why it need not. */
const BUILDING_BLOCKS: Readonly<Record<string, string>> = {
  'steps of estimate and estimate-totals, which open every term of theirs': `
    addNumbers applyExtras chartCurves chartRangeM checkedFloorKg cutCheck cutNumbers describeCut
    describeSegment emptyNumbers emptyRuns emptySettings emptySums fillRuns fillShape gasCostMinor
    jobCost jobSupply jobWithdrawal judgedWith judgementRefusals lookUp narrowKerfMm pieceKgOf
    pieceWeightKg positionTimes preheatRatio prepareCut runOfPart runSettings settingsRefusals
    startMultiplier supplyNeed supplySizeOf timeMultiplier totalsOf`,
  'parts of tip-settings and can-be-cut': `
    orificeAt settingRanges coatingAdvice coatingRefusal materialOf materialRefusal`,
  'branches of contents, and oxygen by the functions for all three permanent gases': `
    acetyleneContents acetyleneTemperatureDistanceK assemble isPermanentSize realGasContents
    realGasFitError waterVolumeOf oxygenContentsKg oxygenDensityKgPerM3 oxygenGaugePressureKpa
    waterVolumeFromNominal`,
  'parts of hose, propane-winter, propane-pressure, flame-heat and combustion-oxygen': `
    hoseStartAbsKpa heldPropaneTemperatureK propaneSaturationAbsKpa propaneVapourM3PerS
    netHeatJPerM3 torchOxygenRatio transferShareOf`,
  'units, which convert, temperature, gas-mass and gas-volume reach': `
    absKpaFromGaugeKpa absKpaFromPsig gasKgFromM3 gasM3FromKg gaugeKpaFromPsig
    kelvinRiseFromFahrenheitRise psigFromGaugeKpa standardDensityKgPerM3 standardKgPerS`,
  'mathematics and book-keeping of sources': `
    sensitivitiesOf     chiSquareAbove heldCurve interpolateHeld interpolateMonotone lognormalInterval measure
    monotoneSlopes normalBeyond normalInterval normalQuantiles numberRefusals quadrature rectangular
    source term traced valueOn weakest fitFalling`,
  'what a code is': `
    isCoatingCode isFuelCode isGasCode isInertGasCode isMaterialCode isPermanentGas`,
  'reconciliation of a whole record, which the database holds': `
    balance balanceIntervals corrected dot factorise forestSolver gaugeColumns groupRecord holdFalling
    inverseOf isForest jobSpans jobUsage once openLedger openState placeOf reconcileDense residualsOf
    selectedInverse solveByGradients solveComponent solveWith solverFor timesTransfers transfersOf
    walkTransfers withGauges floats integers solveBlocks adjustmentsOf compensateSerially equivalenceSets fullColumn globalTests
    likelihoodOf lossSignature quadraticForm readingSignature readingTests rejectionLevel sparseDot`,
  'explaining a record, which the database holds': `
    dangerOf evidenceOf expectedOf explain explainTrail groupBy meantValues
    openTrail outfitCandidates readingAt readingCandidates lessOf ratioOf restOf sizeNear standingCandidates stretchesOf
    subjectOf swapCandidates trailFromRows worthOf`,
  'learning from a record, which the database holds': `
    accountFor restDeviations pricePerKg costOf costBetween amountOf putRight readingsByJob sharedUse namesSeveralJobs staysByCylinder jobBetween jobEntries allocate correctStays correctionOf crewFactors doneShare groupSums joinCorrections lossChart lossPlan narrowings shareLeftByReadings periodBalance roundTogether shrink standardisedDifference varianceBetween varianceWithin weekOf weeklyBalances
    fleetDecisionInterval startCusum stepCusum`,
  'steps of withdrawal and manifold': `propaneVapourMins wholeCylinders`,
  'an estimate of one cut, taken apart for the page': `openedCut`,
  'steps of forecast, demand, order-level and time-to-change': `
    baselineDemand demandQuantiles forecastRefusals learnBaseline outlookOfSite periodicReviewService plannedDemand
    shareDoneBy timeToChangeAt unplannedCounts demandBy rateDemand unplannedDemand`,
  'learning how demand is forecast from all sites, which the database holds': `
    classRules coveredBound learnUnplanned widening`,
  'a year of a rule of ordering, which is a function': `sameEveryWeek simulateSite whenOneIsLeft`,
  'the supply plan, which needs the solver: lib/solver runs it': `
    brokenLimits breakOff chanceOutByDay changedPlan coverByDay demandOfSize sizeShares dayOfChance itemKey leftByDay outDayQuantiles planItems planWithout
    withMoreWork cellCost cellKey cellTracks cylindersOf greedyPlan orderCost limitsToRelax manifoldShort otherStanding planCost
    isOneSite planSite siteWithMoves planModel planOf planParts relaxedPlanModel storageEach storageLargest valuesOf
    addCover addHours addManifolds addMove addOrder addReturns addStorage storageBreaks
    loadedTrip tripGain tripLoss tripPlans ascendedCost hoursWorth linkPrices siteShares sourceModel`,
  'steps of demand-backtest, demand-bound and site-prior': `
    backtestUse pastWindows unplannedOnly chooseMethods classOf conformalRank conformalScore priorLikelihood scoreSpread`,
}
const EXCLUDED = Object.values(BUILDING_BLOCKS).flatMap((names) => names.trim().split(/\s+/))

const CALC = path.resolve('lib/calc')
const DOORS = path.resolve('bin/calc-functions')
const read = (folder: string) =>
  readdirSync(folder)
    .filter((file) => file.endsWith('.ts'))
    .map((file) => readFileSync(path.join(folder, file), 'utf8'))

const exported = read(CALC).flatMap((text) =>
  [...text.matchAll(/^export (?:async )?(?:function\*?|const) ([a-z]\w*)/gm)].map(
    ([, name]) => name ?? '',
  ),
)
const doors = read(DOORS).join('\n')
const isReached = (name: string) => new RegExp(`\\b${name}\\b`).test(doors)

describe('every calculation is reached from bin/calc', () => {
  test('or is a building block, with its reason', () => {
    expect(exported.length).toBeGreaterThan(200)
    expect(exported.filter((name) => !isReached(name) && !EXCLUDED.includes(name))).toEqual([])
  })

  test('no building block is named twice, has gone, or is reached after all', () => {
    expect(EXCLUDED.filter((name, at) => EXCLUDED.indexOf(name) !== at)).toEqual([])
    expect(EXCLUDED.filter((name) => !exported.includes(name))).toEqual([])
    expect(EXCLUDED.filter(isReached)).toEqual([])
  })
})

const tip = { fuel: 'acetylene', process: 'hand' }
const close = (value: number, digits = 9) => expect.closeTo(value, digits)

/** An input for each, and what its answer must hold; run lengths are in `control-chart.published.test.ts`. */
const INPUTS: Readonly<Record<string, readonly [input: unknown, answer: object]>> = {
  'tip-pressures': [
    { ...tip, pathM: (3 / 8) * 0.0254 },
    { oxygen: { provenance: 'common practice', lowGaugeKpa: close(20 * 6.894757, 3) } },
  ],
  'oxygen-purity': [{ purityPct: 98.5 }, { time: close(1 / 0.85), oxygenPerLength: close(1.25) }],
  'start-time': [{ fuel: 'propane', pathM: 0.006 }, { preheatS: close(6) }],
  drill: [{ number: 53 }, { diameterM: close(0.0595 * 0.0254) }],
  'drill-of-hole': [{ diameterM: 0.0595 * 0.0254 }, { number: 53 }],
  cusum: [{ values: [0, 2, 2, 2], k: 0.5, h: 4 }, { firstSignal: { place: 3, onset: 1 } }],
  'cusum-plan': [{ k: 0.5, runLength: 10_000 }, { h: close(7.361, 2) }],
  'cusum-run-length': [{ k: 0.5, h: 5, shift: 0 }, { oneSided: close(930.9, 0) }],
  ewma: [
    { values: [9], target: 0, sd: 1, lambda: 0.2, width: 3 },
    { points: [{ average: close(1.8), isOut: true }] },
  ],
  'ewma-plan': [{ lambda: 1, runLength: 370.398 }, { width: close(3, 2) }],
  'ewma-run-length': [{ lambda: 1, width: 3, shift: 0 }, { runLength: close(370.398, 0) }],
  'demand-smoothed': [
    { demand: [71, 70, 69], alpha: 0.1 },
    { levels: [71, close(70.9), close(70.71)] },
  ],
  'demand-croston': [
    { demand: [0, 0, 3, 0, 4, 0, 0, 0, 2, 0], size: 0.5, interval: 0.2 },
    { forecasts: { croston: close(0.904605, 5), sba: close(0.8141447, 5) } },
  ],
  'demand-tsb': [
    { demand: [0, 0], size: 0.3, chance: 0.1, start: { size: 3, chance: 0.3 } },
    { forecasts: [close(0.9), close(0.81)] },
  ],
  'loss-threshold': [{ throughput: 100, share: 0.01, fixed: 2 }, { threshold: close(3) }],
}
const FUNCTIONS = { ...CUT_TERM_FUNCTIONS, ...WATCHING_FUNCTIONS }

test.each(Object.keys(FUNCTIONS))('%s answers from JSON', (name) => {
  const [input, answer] = INPUTS[name] ?? []
  const found = FUNCTIONS[name]?.run(JSON.parse(JSON.stringify(input)))
  expect(found).toMatchObject({ ok: true, outcome: { ok: true, ...answer } })
})

test.each([
  ['oxygen-purity', { purityPct: 94.9 }],
  ['start-time', { fuel: 'acetylene', pathM: 0 }],
  ['drill', { number: 81 }],
  ['cusum', { values: [1], k: 0, h: 4 }],
])('%s says which number it can not take', (name, input) => {
  expect(FUNCTIONS[name]?.run(input)).toMatchObject({
    ok: false,
    message: expect.stringContaining('OUT_OF_RANGE'),
  })
})

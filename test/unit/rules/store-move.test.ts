import { describe, expect, test } from 'vitest'
import { storeScopes } from '@/lib/rules/finding'
import type { StoreAnswers } from '@/lib/rules/store-answers'
import type { StandingLot } from '@/lib/rules/store-area'
import { judgeMove } from '@/lib/rules/store-move'
import { vectors } from './vectors'

const lot = (gasId: string, count: number, over: Partial<StandingLot> = {}): StandingLot => ({
  gasId,
  count,
  nominalFt3: 250,
  nominalLb: gasId === 'propane' ? 100 : 20,
  status: 'full',
  ...over,
})
const FIT: StoreAnswers = {
  oxygenFuelFt: 20,
  barrier: null,
  isInGasCabinets: false,
  isVentilated: true,
  isDry: true,
  isLocker: false,
  isAwayFromHeatAndExits: true,
  isSafeFromTampering: true,
  highlyCombustibleFt: 20,
  vegetationFt: 10,
  noSmokingSignsWithinFt: 25,
  couldFall: false,
  hottestF: null,
  lpgBuildingFt: 25,
  lpgDoorFt: 10,
  lpgCombustiblesFt: 10,
  hasSingleExit: false,
  extinguisherRatingB: 20,
  firePermitNo: 'FD-1',
}
const INDOORS = { isIndoors: true, isSprinklered: false }
const ALL = storeScopes(['us-osha-1910', 'us-osha-1926', 'us-ifc-2018'])
const rulesOf = (findings: readonly { ruleId: string }[]) => findings.map((one) => one.ruleId)
const judged = (over: Partial<Parameters<typeof judgeMove>[0]>) =>
  judgeMove({ facts: INDOORS, answers: FIT, standing: [], brought: [], scopes: ALL, ...over })

describe('putting cylinders in an area', () => {
  // IFC Table 5003.1.1(1): 1,500 cu ft of oxidizing gas; six of 250 are 1,500.
  test('is refused past what a control area holds, and only for the gas that is brought', () => {
    const full = [lot('oxygen', 6)]
    expect(judged({ standing: [lot('oxygen', 5)], brought: [lot('oxygen', 1)] }).refused).toEqual(
      [],
    )
    expect(rulesOf(judged({ standing: full, brought: [lot('oxygen', 1)] }).refused)).toEqual([
      'ifc-maq-oxidizing-gas',
    ])
    expect(
      judged({ standing: [lot('oxygen', 9)], brought: [lot('acetylene', 1)] }).refused,
    ).toEqual([])
  })

  test('counts an empty as full (IFC 5301.1)', () => {
    const empties = [lot('oxygen', 1, { status: 'empty' })]
    expect(rulesOf(judged({ standing: [lot('oxygen', 6)], brought: empties }).refused)).toEqual([
      'ifc-maq-oxidizing-gas',
    ])
  })

  test('asks for the fire official’s permit above 504 cu ft of oxygen, and not who has one', () => {
    const three = { standing: [lot('oxygen', 2)], brought: [lot('oxygen', 1)] }
    const none = { ...FIT, firePermitNo: null }
    expect(rulesOf(judged({ ...three, answers: none }).warned)).toEqual([
      'ifc-permit-thresholds-gas',
    ])
    expect(judged(three).warned).toEqual([])
  })

  test('asks for a separation that nobody measured, and refuses one that was and is too near', () => {
    const both = { standing: [lot('acetylene', 1)], brought: [lot('oxygen', 1)] }
    const asked = judged({ ...both, answers: null })
    expect(asked.refused).toEqual([])
    expect(rulesOf(asked.warned)).toContain('osha1926-oxygen-separation')
    const near = judged({ ...both, answers: { ...FIT, oxygenFuelFt: 19.9 } })
    expect(rulesOf(near.refused)).toEqual([
      'osha1910-oxygen-separation',
      'osha1926-oxygen-separation',
      'ifc-separation-incompatible',
    ])
    expect(judged(both)).toEqual({ refused: [], warned: [] })
  })

  // 29 CFR 1926.153(j): no LP-gas stored inside buildings in construction.
  test('refuses LP-gas indoors in construction, and lets general industry go to 300 lb', () => {
    const three = { brought: [lot('propane', 3)] }
    expect(rulesOf(judged(three).refused)).toEqual(['osha1926-lpg-no-indoor-storage'])
    const scopes = storeScopes(['us-osha-1910'])
    expect(judged({ ...three, scopes }).refused).toEqual([])
    expect(rulesOf(judged({ brought: [lot('propane', 4)], scopes }).refused)).toEqual([
      'osha1910-fuel-indoor-2000',
    ])
  })

  test('refuses an unfit indoor place whatever is brought (1910.253(b)(2)(ii))', () => {
    const locker = judged({ answers: { ...FIT, isLocker: true }, brought: [lot('oxygen', 1)] })
    expect(rulesOf(locker.refused)).toEqual(['osha1910-indoor-general', 'osha1926-indoor-general'])
  })
})

// Published: the storage vectors of test/vectors/rules/permit-decision-vectors.json.
describe('the published separations', () => {
  const separations = vectors.filter(
    (one) => one.kind === 'storage' && 'distance_ft' in (one.input ?? {}),
  )
  test.each(separations.map((one) => [one.id, one] as const))('%s', (_id, one) => {
    const input = one.input as Record<string, unknown>
    const wall = input.barrier as Record<string, number | boolean> | null
    const barrier = wall && {
      isNoncombustible: wall.noncombustible === true,
      ratingMin: Number(wall.rating_min),
      heightFt: Number(wall.height_ft),
      aboveFt: wall.above_ft === undefined ? null : Number(wall.above_ft),
      besideFt: null,
    }
    const answers = { ...FIT, oxygenFuelFt: Number(input.distance_ft), barrier }
    const { compliant } = one.expected as unknown as {
      compliant: boolean | { osha: boolean; ifc?: boolean }
    }
    const wanted = typeof compliant === 'boolean' ? { osha: compliant, ifc: compliant } : compliant
    const refusedBy = (layer: 'us-osha-1926' | 'us-ifc-2018') =>
      judged({
        answers,
        standing: [lot('acetylene', 1)],
        brought: [lot('oxygen', 1)],
        scopes: storeScopes([layer]),
      }).refused.length > 0
    expect(refusedBy('us-osha-1926')).toBe(!wanted.osha)
    if (wanted.ifc !== undefined) expect(refusedBy('us-ifc-2018')).toBe(!wanted.ifc)
  })
  test('are all five', () => expect(separations).toHaveLength(5))
})

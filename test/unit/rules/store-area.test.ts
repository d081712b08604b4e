import { describe, expect, test } from 'vitest'
import { type StandingLot, storeAreaFindings } from '@/lib/rules/store-area'

const lot = (gasId: string, count: number, over: Partial<StandingLot> = {}): StandingLot => ({
  gasId,
  count,
  nominalFt3: gasId === 'oxygen' ? 244 : 225,
  nominalLb: gasId === 'propane' ? 100 : 20,
  status: 'full',
  ...over,
})
const INDOORS = { isIndoors: true, isSprinklered: false }
const verdicts = (
  facts: Parameters<typeof storeAreaFindings>[0],
  lots: readonly StandingLot[],
  ruleId: string,
) => storeAreaFindings(facts, lots).find((one) => one.ruleId === ruleId)?.verdict

describe('what stands in an area', () => {
  // IFC Table 5003.1.1(1): 1,500 cu ft of oxidizing gas and 1,000 cu ft of flammable gas, doubled by sprinklers.
  test.each([
    ['6 oxygen', INDOORS, [lot('oxygen', 6)], 'ifc-maq-oxidizing-gas', 'ok'],
    ['7 oxygen', INDOORS, [lot('oxygen', 7)], 'ifc-maq-oxidizing-gas', 'not_ok'],
    [
      '7 oxygen under sprinklers',
      { ...INDOORS, isSprinklered: true },
      [lot('oxygen', 7)],
      'ifc-maq-oxidizing-gas',
      'ok',
    ],
    ['4 acetylene', INDOORS, [lot('acetylene', 4)], 'ifc-maq-flammable-gas', 'ok'],
    ['5 acetylene', INDOORS, [lot('acetylene', 5)], 'ifc-maq-flammable-gas', 'not_ok'],
    // Empties count as full unless purged (IFC 5301.1).
    [
      '7 empty oxygen',
      INDOORS,
      [lot('oxygen', 7, { status: 'empty' })],
      'ifc-maq-oxidizing-gas',
      'not_ok',
    ],
    // 29 CFR 1910.253(b)(3)(i): 2,000 cu ft or 300 lb inside a building.
    ['8 acetylene', INDOORS, [lot('acetylene', 8)], 'osha1910-fuel-indoor-2000', 'ok'],
    ['9 acetylene', INDOORS, [lot('acetylene', 9)], 'osha1910-fuel-indoor-2000', 'not_ok'],
    [
      '9 acetylene on outfits',
      INDOORS,
      [lot('acetylene', 9, { status: 'in_use' })],
      'osha1910-fuel-indoor-2000',
      undefined,
    ],
    ['4 propane', INDOORS, [lot('propane', 4)], 'nfpa58-indoor-300lb', 'not_ok'],
    [
      'both, unmeasured',
      INDOORS,
      [lot('oxygen', 1), lot('acetylene', 1)],
      'osha1926-oxygen-separation',
      'not_ok',
    ],
    [
      'a pair on an outfit',
      INDOORS,
      [lot('oxygen', 1, { status: 'in_use' }), lot('acetylene', 1, { status: 'in_use' })],
      'osha1926-oxygen-separation',
      undefined,
    ],
  ] as const)('%s', (_which, facts, lots, ruleId, verdict) => {
    expect(verdicts(facts, lots, ruleId)).toBe(verdict)
  })
})

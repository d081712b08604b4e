import { describe, expect, test } from 'vitest'
import { storeScopes } from '@/lib/rules/finding'
import { mostInStore } from '@/lib/rules/store-room'

const INDOORS = { isIndoors: true, isSprinklered: false }
const SPRINKLERED = { isIndoors: true, isSprinklered: true }
const OUTDOORS = { isIndoors: false, isSprinklered: false }
const fireCode = storeScopes(['us-ifc-2018'])
const industry = storeScopes(['us-osha-1910'])
const construction = storeScopes(['us-osha-1926'])

describe('the most that may stand in an area', () => {
  // IFC 2018 Tables 5003.1.1(1) and (3): oxidizing gas 1,500 ft³, flammable 1,000 ft³; twice with sprinklers;
  // outdoors 6,000 and 3,000 ft³.
  test('by the fire code is its table, sprinklers doubling it', () => {
    expect(mostInStore(INDOORS, 'oxygen', fireCode)).toBeCloseTo(1500, 3)
    expect(mostInStore(SPRINKLERED, 'oxygen', fireCode)).toBeCloseTo(3000, 3)
    expect(mostInStore(INDOORS, 'fuel', fireCode)).toBeCloseTo(1000, 3)
    expect(mostInStore(OUTDOORS, 'oxygen', fireCode)).toBeCloseTo(6000, 3)
    expect(mostInStore(OUTDOORS, 'fuel', fireCode)).toBeCloseTo(3000, 3)
  })

  // 29 CFR 1910.253(b)(3)(i): 2,000 ft³ of fuel gas or 300 lb of LP-gas inside a building.
  test('indoors in general industry is that of fuel gas, and outdoors none', () => {
    expect(mostInStore(INDOORS, 'fuel', industry)).toBeCloseTo(2000, 3)
    expect(mostInStore(INDOORS, 'lpg', industry)).toBeCloseTo(300, 3)
    expect(mostInStore(OUTDOORS, 'fuel', industry)).toBeNull()
    expect(mostInStore(INDOORS, 'oxygen', industry)).toBeNull()
  })

  // 29 CFR 1926.153(j): no LP-gas stored within buildings.
  test('is nothing for LP-gas inside a building on a construction site', () => {
    expect(mostInStore(INDOORS, 'lpg', construction)).toBeCloseTo(0, 3)
  })

  test('of two texts is the stricter', () => {
    const both = storeScopes(['us-ifc-2018', 'us-osha-1910'])
    expect(mostInStore(SPRINKLERED, 'fuel', both)).toBeCloseTo(2000, 3)
  })
})

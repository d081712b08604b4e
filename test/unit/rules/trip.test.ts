import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  judgeTrip,
  TRIP_CHECKS,
  type TripLoad,
  type TripPapers,
  tripReasons,
} from '@/lib/rules/trip'

const load = (weights: readonly number[], over: Partial<TripLoad> = {}): TripLoad => ({
  carrier: 'private',
  purpose: 'supports_principal_business',
  cylinders: weights.map((grossLb) => ({ body: 'truck', grossLb })),
  otherGrossLb: 0,
  ...over,
})
const NO_PAPERS: TripPapers = {
  shippingPaperNo: null,
  isDriverTrained: false,
  arePlacardsShown: false,
}
const PAPERS: TripPapers = {
  shippingPaperNo: 'SP-14',
  isDriverTrained: true,
  arePlacardsShown: false,
}
const codes = (one: TripLoad, papers = NO_PAPERS, checks: readonly string[] = TRIP_CHECKS) =>
  tripReasons(one, { checks, papers }).map((reason) => reason.code)

describe('a load on the road', () => {
  // 49 CFR 173.6(a)(2): 220 lb gross a package (read); 173.6(d): 440 lb on the vehicle (from memory).
  test.each([
    [[220, 220], []],
    [[220.1, 100], ['LOAD_CYLINDER_GROSS']],
    [[160, 160, 120.1], ['LOAD_VEHICLE_GROSS']],
    [
      [221, 220],
      ['LOAD_CYLINDER_GROSS', 'LOAD_VEHICLE_GROSS'],
    ],
  ])('of %j lb leaves without papers unless %j', (weights, expected) => {
    expect(codes(load(weights))).toEqual(expected)
  })

  test('counts what else of trade rides with it', () => {
    expect(codes(load([200, 200], { otherGrossLb: 41 }))).toEqual(['LOAD_VEHICLE_GROSS'])
  })

  test('for delivery or for hire is never of trade, however light', () => {
    expect(codes(load([100], { purpose: 'delivery_of_goods' }))).toEqual(['LOAD_PURPOSE'])
    expect(codes(load([100], { carrier: 'for_hire' }))).toEqual(['LOAD_PURPOSE'])
  })

  test('above the limits leaves with a shipping paper and a trained driver, never with one of them', () => {
    const heavy = load([160, 160, 160])
    expect(codes(heavy, PAPERS)).toEqual([])
    expect(codes(heavy, { ...PAPERS, isDriverTrained: false })).toEqual(['LOAD_DRIVER_UNTRAINED'])
    expect(codes(heavy, { ...PAPERS, shippingPaperNo: null })).toEqual(['LOAD_VEHICLE_GROSS'])
    expect(judgeTrip(heavy).needs).toEqual(['shippingPaper', 'trainedDriver'])
  })

  // 49 CFR 172.504(c): placards from 1,001 lb; PHMSA 09-0120: truck and trailer each alone (both read).
  test('of 1,001 lb in one body shows placards there; 1,000 in each of two shows none', () => {
    const six = [200, 200, 200, 200, 200]
    expect(codes(load([...six, 1]), PAPERS)).toEqual(['LOAD_PLACARDS'])
    expect(codes(load([...six, 1]), { ...PAPERS, arePlacardsShown: true })).toEqual([])
    const both = {
      cylinders: (['truck', 'trailer'] as const).flatMap((body) =>
        six.map((grossLb) => ({ body, grossLb })),
      ),
    }
    expect(judgeTrip(load([], both)).placarded).toEqual([])
  })

  test('does not leave with a check open, and says the paragraph of each', () => {
    const reasons = tripReasons(load([100]), { checks: [], papers: NO_PAPERS })
    expect(reasons.map((reason) => reason.params.check)).toEqual([...TRIP_CHECKS])
    expect(reasons.every((reason) => String(reason.params.citation).length > 0)).toBe(true)
    expect(reasons.find((reason) => reason.params.check === 'capped')?.params.citation).toMatch(
      /^49 CFR/,
    )
  })

  test('does not leave empty', () => {
    expect(codes(load([]))).toEqual(['LOAD_EMPTY'])
  })

  test('is judged no milder for one more cylinder', () => {
    const weights = fc.array(fc.double({ min: 1, max: 400, noNaN: true }), {
      minLength: 1,
      maxLength: 12,
    })
    fc.assert(
      fc.property(weights, fc.double({ min: 1, max: 400, noNaN: true }), (some, more) => {
        const [before, after] = [codes(load(some)), codes(load([...some, more]))]
        for (const code of before) expect(after).toContain(code)
      }),
    )
  })
})

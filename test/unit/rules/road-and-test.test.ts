import { describe, expect, test } from 'vitest'
import { type CylinderMarks, requalification, STAR_GASES } from '@/lib/rules/requalification'
import { lensShade } from '@/lib/rules/shade'
import {
  adrPoints,
  checkAdrDuties,
  checkRide,
  isEmptyHazmat,
  materialsOfTrade,
  placards,
  tradeConditions,
} from '@/lib/rules/transport'

describe('on the road', () => {
  test('220 lb and 440 lb are still materials of trade', () => {
    const load = {
      carrier: 'private',
      purpose: 'supports_principal_business',
      cylindersGrossLb: [220, 220],
      otherGrossLb: 0,
    } as const
    expect(materialsOfTrade(load)).toMatchObject({ isMaterialOfTrade: true, aggregateLb: 440 })
    expect(materialsOfTrade({ ...load, otherGrossLb: 1 }).isMaterialOfTrade).toBe(false)
    expect(materialsOfTrade({ ...load, carrier: 'for_hire' }).needsShippingPaper).toBe(true)
  })

  test('an unknown weight is placarded, and each body counts alone', () => {
    expect(placards([1000.9, 1001, Number.NaN])).toEqual([false, true, true])
  })

  test('what a load of materials of trade owes is said one by one', () => {
    const met = {
      areMarkedAndInDate: true,
      areSecured: false,
      areValvesClosed: true,
      isDriverTold: true,
    }
    const open = tradeConditions(met).filter((one) => one.verdict !== 'ok')
    expect(open.map((one) => one.code)).toEqual(['areSecured'])
  })

  test('fuel gas lies only where the supplier says its relief device still meets vapour', () => {
    const ride = {
      gas: 'lpg',
      orientation: 'horizontal',
      isSecured: true,
      isValveProtected: true,
    } as const
    const dot = (more: object) =>
      checkRide({ ...ride, ...more }).filter(
        (one) => one.ruleId.startsWith('dot-') && one.verdict !== 'ok',
      )
    expect(dot({}).map((one) => one.ruleId)).toEqual(['dot-relief-device-vapor-21'])
    expect(dot({ doesReliefMeetVapourLying: true })).toEqual([])
    expect(dot({ orientation: 'upright', isSecured: false }).map((one) => one.ruleId)).toEqual([
      'dot-load-cylinders',
    ])
  })

  test('an empty is hazardous unless purged, or 2.2 at no more than 280 kPa', () => {
    const empty = { isPurged: false, isFlammable: false, residualKpaAbs: 280 }
    expect(isEmptyHazmat(empty)).toBe(false)
    expect(isEmptyHazmat({ ...empty, residualKpaAbs: 281 })).toBe(true)
    expect(isEmptyHazmat({ ...empty, residualKpaAbs: null })).toBe(true)
    expect(isEmptyHazmat({ ...empty, isFlammable: true })).toBe(true)
    expect(isEmptyHazmat({ ...empty, isFlammable: true, isPurged: true })).toBe(false)
  })

  test('1,000 points are a small load, and it still owes its four duties', () => {
    expect(adrPoints([{ category: 3, quantity: 1000 }])).toEqual({
      points: 1000,
      isSmallLoad: true,
    })
    expect(adrPoints([{ category: 2, quantity: 334 }]).isSmallLoad).toBe(false)
    const duties = {
      isDriverTrainedAndRecorded: true,
      extinguisherKg: 1.9,
      isStowed: true,
      isVentilatedOrMarked: true,
    }
    const open = checkAdrDuties(duties).filter((one) => one.verdict !== 'ok')
    expect(open.map((one) => one.code)).toEqual(['extinguisher'])
  })
})

const MARKS: CylinderMarks = {
  spec: '3AA',
  manufactured: '1990-04',
  last: '2021-03',
  isStarred: true,
  gas: 'argon',
  condition: 'sound',
  filled: null,
  today: '2026-01-15',
}
const due = (more: Partial<CylinderMarks>) => requalification({ ...MARKS, ...more }).due

describe('requalification', () => {
  test.each(STAR_GASES)('a star counts for %s', (gas) => {
    expect(due({ gas })).toBe('2031-03')
  })

  test('a star is void over 125 lb of water, made before 1946, or in a gas nobody names', () => {
    expect(due({ waterCapacityLb: 125 })).toBe('2031-03')
    expect(due({ waterCapacityLb: 126 })).toBe('2026-03')
    expect(due({ manufactured: '1945-12' })).toBe('2026-03')
    expect(requalification({ ...MARKS, gas: null })).toMatchObject({
      due: '2026-03',
      isStarVoid: true,
      reasons: ['star_void'],
    })
  })

  test('never tested, it counts from its making; with neither date it is not filled', () => {
    expect(due({ last: null, isStarred: false, manufactured: '2024-02' })).toBe('2029-02')
    const unknown = requalification({ ...MARKS, last: null, manufactured: null })
    expect(unknown).toMatchObject({ due: null, mayFill: false })
    expect(unknown.reasons).toContain('date_unknown')
  })

  test('aluminium, the 4B family by method, and those with no test at all', () => {
    expect(due({ spec: '3AL' })).toBe('2026-03')
    expect(due({ spec: '3AL', isFireExtinguisher: true })).toBe('2033-03')
    const coated = { spec: '4BW', service: 'noncorrosive_coated' } as const
    expect(due({ ...coated, method: 'volumetric' })).toBe('2033-03')
    expect(due({ ...coated, method: 'proof' })).toBe('2031-03')
    expect(due({ ...coated, method: 'visual' })).toBe('2026-03')
    expect(due(coated)).toBe('2026-03')
    expect(due({ spec: '4B', service: 'other', method: 'volumetric' })).toBe('2026-03')
    expect(requalification({ ...MARKS, spec: '4L' })).toMatchObject({ due: null, mayFill: true })
  })

  test('acetylene made before 1991 had its shell and filler dates in 2000 and 2010', () => {
    const old = { spec: '8', manufactured: '1985-06', last: null, isStarred: false } as const
    expect(requalification({ ...MARKS, ...old })).toMatchObject({
      shellDue: '2000-12',
      fillerLatest: '2010-12',
      mayFill: false,
      reasons: ['shell_past_due', 'filler_past_due', 'fill_date_unknown'],
    })
    const done = requalification({ ...MARKS, ...old, last: '2021-03', isFillerInspected: true })
    expect(done).toMatchObject({ shellDue: '2031-03', fillerLatest: null, mayFill: true })
  })

  test('condition and service life beat every date, and so does a filling after it was due', () => {
    expect(requalification({ ...MARKS, condition: 'dent' })).toMatchObject({
      mayFill: false,
      mayUseContents: false,
      reasons: ['condition'],
    })
    expect(requalification({ ...MARKS, serviceLifeEnds: '2025-12' }).mayFill).toBe(false)
    const late = { ...MARKS, isStarred: false, today: '2026-08-15' }
    expect(requalification({ ...late, filled: '2026-03' }).mayUseContents).toBe(true)
    expect(requalification({ ...late, filled: '2026-04' })).toMatchObject({
      mayUseContents: false,
      reasons: ['past_due', 'filled_after_due'],
    })
  })
})

describe('lens shade', () => {
  test.each([
    ['oxyfuel_cutting', 0.99, 3],
    ['oxyfuel_cutting', 6, 4],
    ['oxyfuel_cutting', null, 5],
    ['oxyfuel_welding', 0.124, 4],
    ['oxyfuel_welding', 0.51, 6],
    ['torch_soldering', null, 2],
    ['carbon_arc', null, 14],
  ] as const)('%s at %s in asks for %d', (process, thicknessIn, shade) => {
    expect(lensShade({ process, thicknessIn }).minimum).toBe(shade)
  })

  test.each([
    ['smaw', 59, 7],
    ['smaw', 60, 8],
    ['smaw', 160, 10],
    ['smaw', 250, 11],
    ['smaw', null, 11],
    ['mig', 59, 7],
    ['mig', 60, 10],
    ['tig', 149, 8],
    ['tig', 150, 10],
    ['plasma_cutting', 299, 8],
    ['plasma_cutting', 300, 9],
    ['plasma_cutting', 400, 10],
  ] as const)('%s at %s A asks for %d', (process, amps, shade) => {
    expect(lensShade({ process, amps }).minimum).toBe(shade)
  })

  test('the guide’s range begins where the minimum stands', () => {
    const shade = lensShade({ process: 'oxyfuel_cutting', thicknessIn: 2 })
    expect(shade).toMatchObject({ minimum: 4, guide: { least: 4, most: 5 } })
  })
})

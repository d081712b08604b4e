import { describe, expect, test } from 'vitest'
import { readChart, saveChartSchema } from '@/lib/schemas/tip-chart'

const problems = (text: string) =>
  readChart(text, 'acetylene').problems.map(({ row, column, code }) => [row, column, code])
const GOOD =
  '1/2\t1\t.046\t18-22\t70-90\t8-12\t30-35\t4-6\n1\t2\t.06\t12-16\t120-150\t9-14\t35-40\t5-7'

describe('a chart as typed', () => {
  test('is read in the order and units of the sheet without a head', () => {
    const { rows, hasHead, problems: none } = readChart(GOOD, 'acetylene')
    expect([hasHead, none]).toEqual([false, []])
    expect(rows[0]).toEqual({
      thicknessIn: 0.5,
      tip: '1',
      orificeIn: [0.046, 0.046],
      speedInPerMin: [18, 22],
      cuttingOxygenFt3PerH: [70, 90],
      fuelFt3PerH: { acetylene: [8, 12] },
      oxygenPsig: [30, 35],
      fuelPsig: { acetylene: [4, 6] },
    })
  })

  test('takes a tip by the drill that made its hole, and no drill that there is not', () => {
    expect(readChart(GOOD.replace('.046', '#56'), 'acetylene').rows[0]?.orificeIn).toEqual([
      0.0465, 0.0465,
    ])
    expect(readChart(GOOD.replace('.06', 'No. 53 drill'), 'acetylene').rows[1]?.orificeIn).toEqual([
      0.0595, 0.0595,
    ])
    expect(problems(GOOD.replace('.06', '#81'))).toEqual([[1, 'orifice', 'NO_DRILL']])
  })

  // An inch is 25.4 mm exactly, a foot 0.3048 m.
  test('is read from a CSV file in any order and other units', () => {
    const csv =
      'Speed (mm/min),Thickness (mm),Oxygen flow (m3/h),Fuel (m3/h)\n254,25.4,2.8316846592,0.28316846592\n127,50.8,"2.8316846592 to 5.6633693184",0.28316846592'
    const { rows } = readChart(csv, 'propane')
    expect(rows).toMatchObject([
      {
        thicknessIn: expect.closeTo(1, 9),
        speedInPerMin: [expect.closeTo(10, 9), expect.closeTo(10, 9)],
        fuelFt3PerH: { propane: [expect.closeTo(10, 6), expect.closeTo(10, 6)] },
      },
      { cuttingOxygenFt3PerH: [expect.closeTo(100, 6), expect.closeTo(200, 6)] },
    ])
  })

  test.each([
    ['1/2\t\t\t18\t70\t', [[0, 'fuel', 'REQUIRED']]],
    ['x\t\t\t18\t70\t8', [[0, 'thickness', 'ENTER_A_RANGE']]],
    ['1\t\t\t22-18\t70\t8', [[0, 'speed', 'LOW_OVER_HIGH']]],
    ['0\t\t\t18\t70\t8', [[0, 'thickness', 'NOT_POSITIVE']]],
    ['1\t\t3\t18\t70\t8', [[0, 'orifice', 'TOO_LARGE']]],
    ['1-2\t\t\t18\t70\t8', [[0, 'thickness', 'ONE_NUMBER']]],
    ['1\t\t\t18\t70\t8\n1/2\t\t\t18\t70\t8', [[1, 'thickness', 'NOT_RISING']]],
  ])('%j names each cell to put right', (text, expected) => {
    expect(problems(text)).toEqual(expected)
  })

  test('of one thickness is no chart', () => {
    const saved = saveChartSchema.safeParse({
      key: '0190b0a0-0000-7000-8000-000000000001',
      siteId: '0190b0a0-0000-7000-8000-000000000001',
      title: 'One',
      source: 'Card',
      fuel: 'acetylene',
      material: 'carbon_steel',
      rows: '1\t\t\t18\t70\t8',
    })
    expect(saved.error?.issues.map((issue) => issue.message)).toEqual(['TWO_ROWS'])
  })
})

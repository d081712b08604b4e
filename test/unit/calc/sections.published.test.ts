import { describe, expect, test } from 'vitest'
import { ANGLE_ROWS } from '@/lib/calc/sections/angles'
import { CHANNEL_ROWS } from '@/lib/calc/sections/channels'
import { type FlangedRow, poundsPerFootOf } from '@/lib/calc/sections/flanged'
import {
  namedSection,
  SECTION_FAMILIES,
  type SectionFamily,
  sectionNameOf,
  sectionNames,
} from '@/lib/calc/sections/named-section'
import { PIPE_ROWS } from '@/lib/calc/sections/pipe-sizes'
import { REBAR_ROWS } from '@/lib/calc/sections/rebar'
import { S_SHAPE_ROWS } from '@/lib/calc/sections/s-shapes'
import { W_SHAPE_ROWS } from '@/lib/calc/sections/w-shapes'
import { UNITS } from '@/lib/calc/units'

/** Steel at 490 lb/ft³, which nominal weights go by. */
const weighed = (areaIn2: number) => (areaIn2 * 490) / 144
const lbPerFt = (family: SectionFamily, name: string) =>
  ((namedSection(family, name)?.kgPerM ?? 0) * UNITS.ft.toBase) / UNITS.lb.toBase

// ASTM A6 dimensions are from memory: area by density must weigh what the name says, and the rectangles must
// make up the area but for the fillets.
describe.each<[string, readonly FlangedRow[]]>([
  ['W shapes', W_SHAPE_ROWS],
  ['S shapes', S_SHAPE_ROWS],
  ['channels', CHANNEL_ROWS],
])('%s of ASTM A6, from memory', (_family, rows) => {
  test.each(rows)('%s', (name, depthIn, widthIn, flangeIn, webIn, areaIn2) => {
    expect(Math.abs(weighed(areaIn2) / poundsPerFootOf(name) - 1)).toBeLessThan(0.015)
    const rectangles = 2 * widthIn * flangeIn + (depthIn - 2 * flangeIn) * webIn
    expect(rectangles / areaIn2).toBeGreaterThan(0.93)
    expect(rectangles / areaIn2).toBeLessThan(1.004)
  })
})

test.each(ANGLE_ROWS)('%s of ASTM A6, from memory, weighs %d lb/ft', (name, poundsPerFoot) => {
  const areaM2 = (namedSection('angle', name)?.runs ?? []).reduce(
    (sum, run) => sum + run.lengthM * run.thicknessM,
    0,
  )
  expect(weighed(areaM2 / UNITS.in.toBase ** 2) / poundsPerFoot).toBeCloseTo(1, 1)
  expect(Math.abs(weighed(areaM2 / UNITS.in.toBase ** 2) / poundsPerFoot - 1)).toBeLessThan(0.02)
})

test.each(REBAR_ROWS)('rebar %s of ASTM A615, from memory', (_name, diameterIn, poundsPerFoot) => {
  expect(Math.abs(weighed((Math.PI / 4) * diameterIn ** 2) / poundsPerFoot - 1)).toBeLessThan(0.01)
})

// Printed weights of the AISC manual, from memory: an independent check of the geometry.
test.each([
  ['HSS2x2x1/8', 3.05],
  ['HSS2x2x1/4', 5.41],
  ['HSS3x3x3/8', 12.17],
  ['HSS4x4x1/4', 12.21],
  ['HSS4x4x1/2', 21.63],
  ['HSS4x3x1/4', 10.51],
  ['HSS6x4x1/4', 15.62],
  ['HSS6x6x5/8', 42.3],
  ['HSS8x4x3/8', 27.48],
  ['HSS8x6x1/2', 42.05],
  ['HSS8x8x5/8', 59.32],
  ['HSS10x10x1/2', 62.46],
  ['HSS12x6x3/8', 42.79],
  ['HSS12x12x5/8', 93.34],
])('%s of ASTM A500 weighs %d lb/ft', (name, poundsPerFoot) => {
  expect(Math.abs(lbPerFt('hss', name) / poundsPerFoot - 1)).toBeLessThan(0.01)
})

// Printed weights of ASME B36.10, from memory.
test.each([
  ['1/2 sch 40', 0.85],
  ['1 sch 40', 1.68],
  ['2 sch 40', 3.65],
  ['4 sch 40', 10.79],
  ['6 sch 40', 18.97],
  ['8 sch 40', 28.55],
  ['12 sch 40', 53.52],
  ['24 sch 40', 171.29],
  ['2 sch 80', 5.02],
  ['6 sch 80', 28.57],
  ['12 sch 80', 88.63],
  ['24 sch 80', 296.58],
  ['2 sch 160', 7.46],
  ['8 sch 160', 74.69],
  ['12 sch 160', 160.27],
  ['12 STD', 49.56],
  ['20 STD', 78.6],
])('pipe %s of ASME B36.10 weighs %d lb/ft', (name, poundsPerFoot) => {
  expect(Math.abs(lbPerFt('pipeSize', name) / poundsPerFoot - 1)).toBeLessThan(0.01)
})

test.each(PIPE_ROWS)('walls of %s in pipe rise with the schedule', (_size, outsideIn, wallIn) => {
  const byNumber = Object.entries(wallIn)
    .filter(([schedule]) => /^\d+$/.test(schedule))
    .sort(([a], [b]) => Number(a) - Number(b))
  for (const [i, [, wall]] of byNumber.entries()) {
    expect(wall).toBeGreaterThanOrEqual(byNumber[i - 1]?.[1] ?? 0)
    expect(wall).toBeLessThan(outsideIn / 2)
  }
})

describe('names', () => {
  test('no family has a name twice, and each name finds its section', () => {
    for (const family of SECTION_FAMILIES) {
      const names = sectionNames(family)
      expect(names.length).toBeGreaterThan(10)
      for (const name of names) {
        const section = namedSection(family, sectionNameOf(family, name))
        expect(section?.name).toBe(name)
        for (const run of section?.runs ?? []) {
          expect(run.lengthM).toBeGreaterThan(0)
          expect(run.thicknessM).toBeGreaterThan(0)
        }
      }
    }
    expect(new Set(W_SHAPE_ROWS.map(([name]) => name)).size).toBe(W_SHAPE_ROWS.length)
  })

  test.each<[SectionFamily, string, string]>([
    ['wShape', 'w 12 × 50', 'W12x50'],
    ['channel', 'c8X11.5', 'C8x11.5'],
    ['angle', 'l4x4x1/2', 'L4x4x1/2'],
    ['hss', '6x4x1/4', 'HSS6x4x1/4'],
    ['pipeSize', '6" SCH40', '6 sch 40'],
    ['pipeSize', '12 std', '12 STD'],
    ['pipeSize', '1-1/2 schedule 80', '1-1/2 sch 80'],
    ['rebar', '5', '#5'],
  ])('%s typed as %s is %s', (family, typed, name) => {
    expect(sectionNameOf(family, typed)).toBe(name)
    expect(namedSection(family, name)).toBeDefined()
  })

  test('a name that no table has finds nothing', () => {
    expect(namedSection('wShape', 'W99x999')).toBeUndefined()
    expect(namedSection('wShape', 'constructor')).toBeUndefined()
  })
})

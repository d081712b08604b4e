import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { estimateCutList } from '@/lib/calc/estimate'
import type { CutInput, EstimateInput } from '@/lib/calc/estimate-types'
import { FUEL_CODES } from '@/lib/calc/gas-data'
import { COATING_CODES, coatingAdvice, MATERIAL_CODES, MATERIALS } from '@/lib/calc/materials'
import { REFUSAL_CODES } from '@/lib/calc/refusal'
import { SECTION_TABLE_ID } from '@/lib/calc/sections/named-section'
import { CUT_CONDITIONS } from '@/lib/schemas/cut-dims'
import { CUT_SHAPES, CUT_TASKS, SHAPES } from '@/lib/schemas/cut-shapes'
import { SHEET_COLUMNS } from '@/lib/schemas/sheet-columns'
import messages from '@/messages/en.json'

const { jobs, calcWords, precautions, sheet } = messages
const sourcesOfCalc = readdirSync('lib/calc', { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => readFileSync(`lib/calc/${file}`, 'utf8'))

/** Codes that stand in the library's own text as `instead: ['a', 'b']`. */
const insteadCodes = new Set(
  sourcesOfCalc.flatMap((text) =>
    [...text.matchAll(/instead: \[([^\]]*)\]/g)].flatMap(([, list = '']) =>
      [...list.matchAll(/'(\w+)'/g)].map(([, code = '']) => code),
    ),
  ),
)

const isSentence = (words: string | undefined) => words !== undefined && /[.:]$/.test(words)

describe('every code of the library has words', () => {
  test('why there is no number, whichever refusal it is', () => {
    const words: Record<string, string> = calcWords.refusal
    expect(REFUSAL_CODES.filter((code) => !isSentence(words[code]))).toEqual([])
    const raised = sourcesOfCalc.flatMap((text) =>
      [...text.matchAll(/code: '([A-Z][A-Z0-9_]+)'/g)].map(([, code = '']) => code),
    )
    expect(raised.length).toBeGreaterThan(40)
    const known: readonly string[] = REFUSAL_CODES
    expect(raised.filter((code) => !known.includes(code))).toEqual([])
  })

  test('what to do instead', () => {
    expect([...insteadCodes]).toEqual(
      expect.arrayContaining(['ownTipChart', 'ownSettings', 'ownFuelFlow', 'weighCylinder']),
    )
    const words: Record<string, string> = { ...jobs.instead, ...calcWords.instead }
    expect([...insteadCodes].filter((code) => !words[code])).toEqual([])
  })

  test('metals, why they are not cut, and coatings with each precaution', () => {
    const because: Record<string, string> = jobs.because
    for (const code of MATERIAL_CODES) {
      expect(jobs.materials[code]).toBeTruthy()
      const why = MATERIALS[code].because
      if (why) expect(because[why], why).toBeTruthy()
    }
    const words: Record<string, string> = precautions
    for (const code of COATING_CODES) {
      expect(jobs.coatings[code]).toBeTruthy()
      const advice = coatingAdvice(code)
      for (const { precaution } of [...(advice?.inTheOpen ?? []), ...(advice?.enclosed ?? [])])
        expect(words[precaution], precaution).toBeTruthy()
    }
  })

  test('shapes, tasks, conditions and columns of the sheet', () => {
    const columns: Record<string, string> = sheet.column
    for (const shape of CUT_SHAPES) {
      expect(jobs.shapes[shape]).toBeTruthy()
      expect(sheet.choice.shape[shape]).toBeTruthy()
    }
    for (const task of CUT_TASKS) expect(jobs.tasks[task] && sheet.choice.task[task]).toBeTruthy()
    for (const code of CUT_CONDITIONS) expect(jobs.condition[code]).toBeTruthy()
    expect(SHEET_COLUMNS.filter((column) => !columns[column])).toEqual([])
    const boxes: Record<string, string> = jobs.box
    const asked = CUT_SHAPES.flatMap((shape) => SHAPES[shape].measures)
    expect(asked.filter((box) => !boxes[box])).toEqual([])
  })
})

const own = { cuttingOxygenM3PerS: 1e-3, fuelM3PerS: 1e-4, speedMPerS: 5e-3, areaM2PerS: 1e-5 }
const shared = { material: 'carbon_steel', count: 2 } as const
const beam = { kind: 'wShape', designation: 'W12x50' } as const
const CUTS: readonly CutInput[] = [
  { ...shared, id: 'plate', shape: { kind: 'plate', thicknessM: 0.025, lengthM: 2 } },
  {
    ...shared,
    id: 'beam',
    shape: beam,
    position: 'overhead',
    conditions: [...CUT_CONDITIONS],
    coating: 'zinc',
    piece: { lengthM: 2 },
  },
  { ...shared, id: 'cope', shape: beam, task: { kind: 'cope', lengthM: 0.2, depthM: 0.1 } },
  { ...shared, id: 'own', material: 'cast_iron', own, shape: { kind: 'squareBar', sideM: 0.05 } },
  { ...shared, id: 'gouge', own, shape: { kind: 'gouge', areaM2: 0.1, depthM: 0.005 } },
  { ...shared, id: 'rivet', shape: { kind: 'rivetHead', shankDiameterM: 0.022 } },
]

/** Every formula and table that an answer names. */
function walk(value: unknown, found: { formulas: Set<string>; tables: Set<string> }): void {
  if (typeof value !== 'object' || value === null) return
  if ('formulaCode' in value && 'tableId' in value) {
    found.formulas.add(String(value.formulaCode))
    if (value.tableId !== null) found.tables.add(String(value.tableId))
  }
  for (const inner of Object.values(value)) walk(inner, found)
}

test('every formula and table that an estimate names has a sentence', () => {
  const found = { formulas: new Set<string>(), tables: new Set<string>() }
  const common: Omit<EstimateInput, 'fuel'> = {
    cuts: [...CUTS],
    crewFactor: { mean: 1.1, standardUncertainty: 0.1 },
    ownFuelFlowM3PerS: [1e-4, 2e-4],
  }
  for (const fuel of FUEL_CODES) {
    const outcome = estimateCutList({ ...common, fuel })
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
    walk(outcome, found)
  }
  const { ownFuelFlowM3PerS: _own, ...byTable } = common
  walk(estimateCutList({ ...byTable, fuel: 'acetylene' }), found)
  const formulas: Record<string, string> = { ...calcWords.formula, ...jobs.source.formula }
  expect(found.formulas.size).toBeGreaterThan(14)
  expect([...found.formulas].filter((code) => !isSentence(formulas[code]))).toEqual([])
  const sections: Record<string, string> = jobs.source.sections
  expect(Object.values(SECTION_TABLE_ID).filter((id) => !isSentence(sections[id]))).toEqual([])
  expect([...found.tables]).toContain(SECTION_TABLE_ID.wShape)
})

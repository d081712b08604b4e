import { expect, test } from 'vitest'
import { CUTTING_FUNCTIONS } from '@/bin/calc-functions/cutting'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { cutList, plateCut } from './estimate-fixtures'

/** An input for each calculation of cuts as JSON, and what its answer must hold. */
const INPUTS: Readonly<Record<string, readonly [input: unknown, answer: object]>> = {
  estimate: [cutList({ judgements: { wind: 1.2 } }), { ok: true, calcVersion: '1.1.0' }],
  'estimate-totals': [
    cutList({ cuts: [plateCut(), plateCut({ material: 'copper' })] }),
    { ok: true, cuts: 1, refused: [1] },
  ],
  'can-be-cut': [
    { material: 'cast_iron', coating: 'zinc' },
    { ok: true, cuttable: false, because: 'oxideMeltsAboveMetal' },
  ],
  'tip-settings': [
    { fuel: 'acetylene', pathM: 0.0127, process: 'hand' },
    { ok: true, orificeM: expect.closeTo(0.04 ** 0.4 * 0.06 ** 0.6 * 0.0254, 9) },
  ],
  'tip-chart': [OFC_CARBON_STEEL, { ok: true }],
  section: [
    { family: 'wShape', typed: 'w12 x 50' },
    { ok: true, section: { name: 'W12x50' } },
  ],
}

test.each(Object.keys(CUTTING_FUNCTIONS))('%s answers from JSON and has a schema', (name) => {
  const [input, answer] = INPUTS[name] ?? []
  const found = CUTTING_FUNCTIONS[name]?.run(JSON.parse(JSON.stringify(input)))
  expect(found).toMatchObject({ ok: true, outcome: answer })
  expect(CUTTING_FUNCTIONS[name]?.jsonSchema()).toMatchObject({ type: 'object' })
})

test('a fuel or a section that is not known is refused by name', () => {
  const tip = CUTTING_FUNCTIONS['tip-settings']?.run({ fuel: 'mps', pathM: 0.01, process: 'hand' })
  expect(tip).toMatchObject({ outcome: { refusals: [{ code: 'FUEL_NOT_IN_TABLE' }] } })
  const section = CUTTING_FUNCTIONS.section?.run({ family: 'hss', typed: '1x1x1' })
  expect(section).toMatchObject({ outcome: { refusals: [{ code: 'UNKNOWN_SECTION' }] } })
})

import { spawnSync } from 'node:child_process'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { CONTENTS_FUNCTIONS } from '@/bin/calc-functions/contents'
import { DRAW_FUNCTIONS } from '@/bin/calc-functions/draw'
import { FORECASTING_FUNCTIONS } from '@/bin/calc-functions/forecasting'
import { GAS_PHYSICS_FUNCTIONS } from '@/bin/calc-functions/gas-physics'
import { GAS_WORK_FUNCTIONS } from '@/bin/calc-functions/gas-work'
import { ORDER_DECISION_FUNCTIONS } from '@/bin/calc-functions/order-decisions'
import { CALC_FUNCTION_GROUPS, CALC_FUNCTIONS } from '@/bin/calc-functions/registry'
import { RENTING_FUNCTIONS } from '@/bin/calc-functions/renting'
import { SUPPLY_FUNCTIONS } from '@/bin/calc-functions/supply'
import { UNCERTAINTY_FUNCTIONS } from '@/bin/calc-functions/uncertainty'
import { UNIT_FUNCTIONS } from '@/bin/calc-functions/units'
import { runCalc } from '@/bin/calc-main'
import { CALC_INPUTS } from './bin-calc-inputs'
import { cutList, plateCut } from './estimate-fixtures'

async function calc(name: string | string[], input: unknown) {
  const printed = { out: '', err: '' }
  const chunks = (async function* () {
    yield typeof input === 'string' ? input : JSON.stringify(input)
  })()
  const code = await runCalc({
    args: [name].flat().filter((arg) => arg !== ''),
    input: chunks,
    out: (text) => {
      printed.out += text
    },
    err: (text) => {
      printed.err += text
    },
  })
  return { code, ...printed, json: printed.out.startsWith('{') ? JSON.parse(printed.out) : null }
}

const reading = (atMs: number, gasKg: number) => ({ atMs, gasKg, standardUncertaintyKg: 0.2 })

describe('bin/calc', () => {
  test.each([
    ['estimate', cutList(), { fuel: 'acetylene', tableId: 'ofc-carbon-steel-us-handbook' }],
    [
      'audit',
      {
        gas: 'oxygen',
        spans: [{ cylinderId: 'a', readings: [reading(0, 9), reading(1, 4)] }],
        estimate: { meanKg: 5, standardUncertaintyKg: 1 },
      },
      { z: 0 },
    ],
    [
      'forecast',
      { planned: [], baselineDailyCounts: [1, 0, 1], stockCylinders: 3, horizonDays: 5 },
      { days: expect.any(Array) },
    ],
  ])('%s prints its answer as JSON and exits 0', async (name, input, answer) => {
    const { code, json, err } = await calc(name, input)
    expect(code).toBe(0)
    expect(err).toBe('')
    expect(json).toMatchObject({ ok: true, ...answer })
  })

  test.each(Object.entries(CALC_INPUTS))('%s answers', async (name, [input, answer]) => {
    const { code, json, err } = await calc(name, input)
    expect(err).toBe('')
    expect(code).toBe(0)
    expect(json).toMatchObject({ ok: true, ...answer })
  })

  test('every calculation of the gas groups is tried', () => {
    const names = [
      CONTENTS_FUNCTIONS,
      DRAW_FUNCTIONS,
      GAS_WORK_FUNCTIONS,
      GAS_PHYSICS_FUNCTIONS,
      SUPPLY_FUNCTIONS,
      FORECASTING_FUNCTIONS,
      ORDER_DECISION_FUNCTIONS,
      RENTING_FUNCTIONS,
      UNCERTAINTY_FUNCTIONS,
      UNIT_FUNCTIONS,
    ].flatMap((group) => Object.keys(group))
    expect(Object.keys(CALC_INPUTS).sort()).toEqual(names.sort())
  })

  test('a refusal is an answer: the field, the value and the limit', async () => {
    const { code, json } = await calc('estimate', cutList({ cuts: [plateCut({ count: 0 })] }))
    expect(code).toBe(0)
    expect(json).toMatchObject({
      ok: false,
      refusals: [{ code: 'OUT_OF_RANGE', field: 'cuts.0.count', value: 0, limit: { min: 1 } }],
    })
  })

  test.each([
    ['a wrong type', { fuel: 7, cuts: [] }, 'fuel'],
    ['a missing field', { fuel: 'acetylene' }, 'cuts'],
    ['a mistyped name', { fuel: 'acetylene', cuts: [], torch: 2 }, '"torch"'],
    ['no JSON', '{', 'not JSON'],
  ])('%s exits 2 and says so', async (_what, input, said) => {
    const { code, out, err } = await calc('estimate', input)
    expect(code).toBe(2)
    expect(out).toBe('')
    expect(err).toContain(said)
  })

  test.each(['', 'nonsense', 'constructor'])(
    '"%s" is no calculation: usage, exit 2',
    async (name) => {
      const { code, err } = await calc(name, {})
      expect(code).toBe(2)
      for (const known of Object.keys(CALC_FUNCTIONS)) expect(err).toContain(known)
    },
  )

  test('a number that a function cannot take exits 2 and names the field', async () => {
    const { code, out, err } = await calc('convert', { value: 1, from: 'kg', to: 'm' })
    expect(code).toBe(2)
    expect(out).toBe('')
    expect(err).toContain('WRONG_ORDER: to = m')
  })

  test('--list names every calculation once, with a line that says what it does', async () => {
    const { code, out } = await calc('--list', '')
    expect(code).toBe(0)
    const names = out
      .trimEnd()
      .split('\n')
      .map((line) => {
        expect(line).toMatch(/^[a-z][A-Za-z0-9-]+ {2,}\S.{10,}/)
        return line.split(' ')[0]
      })
    expect(names).toEqual(CALC_FUNCTION_GROUPS.flatMap((group) => Object.keys(group)))
    expect(new Set(names).size).toBe(names.length)
  })

  test.each(Object.keys(CALC_FUNCTIONS))(
    '--schema %s prints the form of its input',
    async (name) => {
      const { code, json } = await calc(['--schema', name], '')
      expect(code).toBe(0)
      expect(json.$schema).toContain('json-schema.org')
      expect(json.type ?? json.anyOf ?? json.oneOf).toBeTruthy()
    },
  )

  test.each([
    [['--schema']],
    [['--schema', 'nonsense']],
    [['--list', 'estimate']],
    [['estimate', 'contents']],
  ])('%j is no command: usage, exit 2', async (args) => {
    const { code, err } = await calc(args, {})
    expect(code).toBe(2)
    expect(err).toContain('--schema NAME')
  })

  test('runs as a command from any folder', () => {
    const command = path.resolve('bin/calc')
    const run = spawnSync(process.execPath, [command, 'withdrawal'], {
      cwd: '/',
      input: '{"gas":"acetylene","capacityKg":"much"}',
      encoding: 'utf8',
    })
    expect(run.status).toBe(2)
    expect(run.stdout).toBe('')
    expect(run.stderr).toContain('capacityKg')
  })
})

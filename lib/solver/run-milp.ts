import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { Milp } from '../calc/milp'

export type SolverProgress = Readonly<{
  /** Which of the programs, from 1, of how many. */
  part: number
  parts: number
  /** Cost of the best plan of that part so far, and below which none can be. */
  best: number | null
  bound: number | null
}>
export type SolverAnswer = Readonly<{
  outcome: 'solved' | 'stopped' | 'infeasible' | 'failed'
  values: Float64Array | null
  objective: number | null
  bound: number | null
  /** Of the rows, where it was asked without whole numbers. */
  duals: Float64Array | null
}>
/** A program, and a solution to start from; it is checked, not trusted. */
export type SolverAsk = Readonly<{
  milp: Milp
  start: Float64Array | null
  /** Parts of cylinders and trucks allowed: soon solved, and its rows have prices. */
  isRelaxed?: boolean
}>
export type SolverTime = Readonly<{
  /** For all of them together. */
  timeLimitS: number
  /** Share of the cost within which the best is good enough. */
  gap: number
  /** Branches looked at in each program at most: unlike time, the same on every machine. Unlimited unless given. */
  mostNodes?: number
  onProgress?: (progress: SolverProgress) => void
}>

/** Beyond its own limit a solver is stopped from outside. */
const GRACE_S = 5

/** Plain JavaScript beside this file: a worker is a file that Node reads, bundled or not. */
const workerFile = () => path.join(process.cwd(), 'lib', 'solver', 'milp-worker.mjs')

type Message = Readonly<
  | ({ kind: 'progress' } & SolverProgress)
  | { kind: 'answer'; at: number; answer: SolverAnswer }
  | { kind: 'end' }
>

/**
 * Solves mixed-integer programs one after the other in a thread of their own, the smallest first.
 *
 * @returns an answer each, in the order asked; `failed` where the solver broke or did not stop in time. Never rejects.
 */
export function runMilps(
  asks: readonly SolverAsk[],
  { timeLimitS, gap, mostNodes, onProgress }: SolverTime,
): Promise<SolverAnswer[]> {
  const answers = asks.map(
    (): SolverAnswer => ({
      outcome: 'failed',
      values: null,
      objective: null,
      bound: null,
      duals: null,
    }),
  )
  if (asks.length === 0) return Promise.resolve(answers)
  return new Promise((resolve) => {
    const worker = new Worker(/* turbopackIgnore: true */ workerFile(), {
      workerData: { asks, timeLimitS, gap, mostNodes },
    })
    const end = () => {
      clearTimeout(timer)
      resolve(answers)
      void worker.terminate()
    }
    const timer = setTimeout(end, (timeLimitS + GRACE_S) * 1000)
    worker.on('message', (message: Message) => {
      if (message.kind === 'progress') onProgress?.(message)
      else if (message.kind === 'answer') answers[message.at] = message.answer
      else end()
    })
    worker.on('error', end)
    worker.on('exit', end)
  })
}

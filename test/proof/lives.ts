import { type ChildProcess, fork } from 'node:child_process'
import path from 'node:path'
import { runtimeUrl } from '../../bin/lib/urls.mjs'

export const name = 'No life of a permit breaks what must hold, whoever does what at once'

const LIVES = 10_000
const PROCESSES = 2
/** A process and its database end after so many: neither what it keeps nor what it left behind slows the rest. */
const A_PROCESS = 200
const SAY_EVERY = 100
const MOST_BROKEN = 5

/** Of a process that lives some lives: how each ended. */
export type Told = Readonly<{ number: number; ended: string } | { number: number; failure: string }>

interface Context {
  newDatabase: () => Promise<string>
  options: Readonly<Partial<Record<'from' | 'lives' | 'processes', string>>>
  say: (text: string) => void
}

const WORKER = path.join(import.meta.dirname, '..', 'lives', 'worker.ts')

/** Lives these numbers in a process and a database of their own. */
async function liveApart(
  context: Context,
  range: Readonly<{ from: number; until: number }>,
  heard: (told: Told) => void,
): Promise<void> {
  const ownerUrl = await context.newDatabase()
  const worker: ChildProcess = fork(WORKER, [String(range.from), String(range.until)], {
    execArgv: ['--conditions=react-server', '--import', 'tsx'],
    env: { ...process.env, DATABASE_URL: ownerUrl, KERFWATCH_DATABASE_URL: runtimeUrl(ownerUrl) },
  })
  worker.on('message', (told) => heard(told as Told))
  const code = await new Promise<number | null>((resolve) => worker.on('exit', resolve))
  if (code !== 0) throw new Error(`the lives ${range.from} to ${range.until} ended with ${code}`)
}

const wholeNumber = (text: string | undefined, otherwise: number) => {
  const value = text === undefined ? otherwise : Number(text)
  if (!Number.isSafeInteger(value) || value < 0) throw new Error(`${text} is not a whole number`)
  return value
}

/** Several processes at once, each taking the next lives that nobody has begun. Ends when so many have broken. */
export async function run(context: Context) {
  const from = wholeNumber(context.options.from, 0)
  const until = from + wholeNumber(context.options.lives, LIVES)
  const startedMs = performance.now()
  const ended: Record<string, number> = {}
  const lived = new Set<number>()
  const failures: string[] = []
  const seconds = () => (performance.now() - startedMs) / 1_000
  let [next, begun] = [from, from]

  const tell = () => {
    while (lived.has(next)) next += 1 // every life below `next` is done: a later run may go on from there
    const each = (seconds() / lived.size).toFixed(2)
    context.say(
      `${lived.size} of ${until - from} lives, all below ${next}; ${each} s each; ${JSON.stringify(ended)}`,
    )
  }
  const heard = (told: Told) => {
    if ('failure' in told) {
      failures.push(told.failure)
      context.say(`life ${told.number} FAILED: ${told.failure}`)
      return
    }
    lived.add(told.number)
    ended[told.ended] = (ended[told.ended] ?? 0) + 1
    if (lived.size % SAY_EVERY === 0) tell()
  }
  const processes = wholeNumber(context.options.processes, PROCESSES)
  const aTime = Math.min(A_PROCESS, Math.ceil((until - from) / Math.max(1, processes)))
  const takeTurns = async () => {
    while (begun < until && failures.length < MOST_BROKEN) {
      const range = { from: begun, until: Math.min(begun + aTime, until) }
      begun = range.until
      await liveApart(context, range, heard)
    }
  }
  await Promise.all(Array.from({ length: processes }, takeTurns))
  tell()
  return { cases: lived.size, failures }
}

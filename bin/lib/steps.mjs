// Says what is being done, how long it took, and what to do when it fails. Node's own modules only.
const startedAt = performance.now()

export const seconds = (ms) => `${(ms / 1000).toFixed(1)} s`
export const secondsSinceStart = () => seconds(performance.now() - startedAt)

/** An error whose message is meant for the person at the terminal. */
export class StepError extends Error {
  constructor(message, cure) {
    super(message)
    this.cure = cure
  }
}

const cleanups = []

/** Registers something that must be stopped before this process ends; the last one goes first. */
export function onEnd(cleanup) {
  cleanups.push(cleanup)
}

let ending = null

/** Stops everything once; whoever asks again waits for the same end. */
export function endAll() {
  ending ??= stopInTurn()
  return ending
}

async function stopInTurn() {
  while (cleanups.length > 0) {
    const cleanup = cleanups.pop()
    await Promise.resolve()
      .then(cleanup)
      .catch((error) => console.error(`  While stopping: ${error.message}`))
  }
}

/** Ends everything on Ctrl-C or a polite kill; a second press does not wait. */
export function endOnSignals() {
  let isEnding = false
  // A terminal that is closed takes its output away before it tells us: that must not keep us from stopping.
  for (const output of [process.stdout, process.stderr]) output.on('error', () => {})
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
    process.on(signal, async () => {
      if (isEnding) return
      isEnding = true
      process.stdout.write('\nStopping ...\n')
      await endAll()
      process.exit(signal === 'SIGINT' ? 130 : 143)
    })
  }
}

const lastLines = (text, count) => text.trim().split('\n').slice(-count).join('\n')

function explain(error) {
  const output = [error.stdout, error.stderr].filter(Boolean).join('\n')
  return output ? `${error.message.split('\n')[0]}\n${lastLines(output, 40)}` : error.message
}

/**
 * One step of a command. Prints its name, then the time and what `work` returns as a note.
 *
 * @param {string} name what is being done, for the person at the terminal
 * @param {string} cure what to do when it fails
 * @param {(note: (text: string) => void) => Promise<unknown> | unknown} work
 */
export async function step(name, cure, work) {
  const from = performance.now()
  const dots = '.'.repeat(Math.max(3, 34 - name.length))
  process.stdout.write(`  ${name} ${dots} `)
  let said = ''
  try {
    const result = await work((text) => {
      said = text
    })
    process.stdout.write(`${seconds(performance.now() - from)}${said ? `  (${said})` : ''}\n`)
    return result
  } catch (error) {
    if (ending) return new Promise(() => {}) // stopped on purpose: the signal's end is the end
    process.stdout.write(`failed after ${seconds(performance.now() - from)}\n\n`)
    console.error(explain(error))
    console.error(`\nWhat to do: ${error.cure ?? cure}\n`)
    await endAll()
    process.exit(1)
  }
}

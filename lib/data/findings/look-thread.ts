import 'server-only'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import { Worker } from 'node:worker_threads'

const WORKER_FILE = ['lib', 'data', 'findings', 'look-worker.mjs']
/** The bundler would follow a path that it can read, and has no use for what loads TypeScript as it stands. */
const START = 'import(require("node:worker_threads").workerData)'
/** Without it `server-only` modules refuse to load. */
const EXEC = ['--conditions=react-server']

/** Looks through the record where that was asked for, away from the thread that answers pages. */
export function runLookThread(): Promise<void> {
  const file = pathToFileURL([process.cwd(), ...WORKER_FILE].join(path.sep)).href
  return new Promise((resolve, reject) => {
    const worker = new Worker(START, { eval: true, workerData: file, execArgv: EXEC })
    // A process that is told to end does not wait for a look: another takes it over.
    worker.unref()
    worker.on('error', reject)
    worker.on('exit', (code) =>
      code === 0 ? resolve() : reject(new Error(`the thread of the look ended with ${code}`)),
    )
  })
}

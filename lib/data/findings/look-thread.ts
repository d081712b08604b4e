import 'server-only'
import path from 'node:path'
import { Worker } from 'node:worker_threads'

/** Plain JavaScript beside this file: a worker is a file that Node reads, bundled or not. */
const workerFile = () => path.join(process.cwd(), 'lib', 'data', 'findings', 'look-worker.mjs')

/** Without it `server-only` modules refuse to load. */
const EXEC = ['--conditions=react-server']

/** Looks through the record where that was asked for, away from the thread that answers pages. */
export function runLookThread(): Promise<void> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(/* turbopackIgnore: true */ workerFile(), { execArgv: EXEC })
    // A process that is told to end does not wait for a look: another takes it over.
    worker.unref()
    worker.on('error', reject)
    worker.on('exit', (code) =>
      code === 0 ? resolve() : reject(new Error(`the look's thread ended with ${code}`)),
    )
  })
}

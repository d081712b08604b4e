// Where things lie. Node's own modules only: used before anything is installed.
import path from 'node:path'
import { fileURLToPath } from 'node:url'

export const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..', '..')
export const STATE_DIR = path.join(ROOT, '.kerfwatch')

/** A path inside the project. */
export const inRoot = (...parts) => path.join(ROOT, ...parts)

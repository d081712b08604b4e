// The typed database client, made from prisma/schema.prisma.
import { execFile } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { promisify } from 'node:util'
import { inRoot, STATE_DIR } from './paths.mjs'

const STAMP = inRoot('.kerfwatch', 'client-of')
const OUTPUT = inRoot('lib', 'data', 'generated')

function schemaHash() {
  const files = ['prisma/schema.prisma', 'node_modules/prisma/package.json']
  const hash = createHash('sha256')
  for (const file of files) hash.update(readFileSync(inRoot(file)))
  return hash.digest('hex')
}

/** Generates the client unless it is there already. @returns {Promise<boolean>} whether it did */
export async function generateClient() {
  const hash = schemaHash()
  if (existsSync(OUTPUT) && existsSync(STAMP) && readFileSync(STAMP, 'utf8') === hash) return false
  await promisify(execFile)(
    process.execPath,
    [inRoot('node_modules/prisma/build/index.js'), 'generate'],
    {
      cwd: inRoot(),
      env: {
        ...process.env,
        // Generating never runs the native engine, but looks for its file; any file will do.
        PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
        CHECKPOINT_DISABLE: '1',
        PRISMA_HIDE_UPDATE_MESSAGE: '1',
      },
    },
  )
  mkdirSync(STATE_DIR, { recursive: true })
  writeFileSync(STAMP, hash)
  return true
}

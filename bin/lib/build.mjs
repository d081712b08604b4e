// The production build, made again only when something it is made of has changed.
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { inRoot } from './paths.mjs'
import { runTool } from './run.mjs'

const SOURCES = [
  'app',
  'lib',
  'seed/demo',
  'messages',
  'public',
  'prisma/schema.prisma',
  'instrumentation.ts',
  'proxy.ts',
  'next.config.js',
  'postcss.config.mjs',
  'tsconfig.json',
  'package-lock.json',
]
const GENERATED = inRoot('lib', 'data', 'generated')
const STAMP = inRoot('.next', 'kerfwatch-sources')

function* filesOf(at) {
  if (at === GENERATED || !existsSync(at)) return
  if (!statSync(at).isDirectory()) {
    yield at
    return
  }
  for (const name of readdirSync(at).sort()) yield* filesOf(path.join(at, name))
}

/** One hash over everything that the build is made of. */
export function hashSources() {
  const hash = createHash('sha256').update(process.versions.node)
  for (const source of SOURCES) {
    for (const file of filesOf(inRoot(source))) {
      hash
        .update(path.relative(inRoot(), file))
        .update('\0')
        .update(readFileSync(file))
        .update('\0')
    }
  }
  return hash.digest('hex')
}

/** Removes the route types of the development server: they name pages that may be gone. */
export function forgetDevelopmentTypes() {
  rmSync(inRoot('.next', 'dev', 'types'), { recursive: true, force: true })
}

/** @returns {Promise<boolean>} whether a build was needed */
export async function buildIfChanged() {
  const hash = hashSources()
  if (
    existsSync(inRoot('.next', 'BUILD_ID')) &&
    existsSync(STAMP) &&
    readFileSync(STAMP, 'utf8') === hash
  )
    return false
  forgetDevelopmentTypes()
  await runTool('next/dist/bin/next', ['build'], {
    env: { ...process.env, NODE_ENV: 'production', NEXT_TELEMETRY_DISABLED: '1' },
  })
  writeFileSync(STAMP, hash)
  return true
}

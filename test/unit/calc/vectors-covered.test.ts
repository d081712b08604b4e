import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'

/*
 * Every vector of balances, uncertainties, factors, charts, forecasts and orders that is kept here is used by a test,
 * and those of the set that are not kept are named with the reason. A vector that nobody reads proves nothing.
 */
const VECTORS = path.resolve('test/vectors/calc')
const TESTS = import.meta.dirname
const FILES = [
  'balance.json',
  'statistics.json',
  'forecast-accuracy.json',
  'intermittent.json',
  'inventory.json',
] as const

type Vector = { id: string; source: string; provenance: string }
const vectors = FILES.flatMap((file): Vector[] => {
  const read = JSON.parse(readFileSync(path.join(VECTORS, file), 'utf8'))
  return Array.isArray(read) ? read : read.vectors
})
/** Code alone: a vector that only a comment names is not used. */
const tests = readdirSync(TESTS)
  .filter((file) => file.endsWith('.test.ts') && !import.meta.filename.endsWith(file))
  .map((file) =>
    readFileSync(path.join(TESTS, file), 'utf8').replaceAll(/\/\/.*|\/\*[\s\S]*?\*\//g, ''),
  )
  .join('\n')

/** Of the same set of published examples, and why no test has them. */
const LEFT_OUT: Readonly<Record<string, string>> = {
  'holt-nist-6434': 'smoothing with a trend: no forecast here has one, demand of a site is sparse',
  'hw-nist-initials': 'starting values of smoothing with a season: no forecast here has one',
  'hw-multiplicative-explicit': 'smoothing with a season: no forecast here has one',
}

test.each(vectors.map((vector) => vector.id))('%s is used by a test', (id) => {
  expect(tests).toMatch(new RegExp(`['"\`]${id.replaceAll('.', '\\.')}['"\`]`))
})

test('each says where it is from and how it is known, and none stands twice', () => {
  const ids = vectors.map((vector) => vector.id)
  expect(ids).toHaveLength(58)
  expect(new Set(ids).size).toBe(ids.length)
  for (const { id, source, provenance } of vectors) {
    expect(source.length, id).toBeGreaterThan(0)
    expect(provenance, id).toMatch(/^(read|memory|computed)$/)
  }
})

test('what is left out is not kept after all', () => {
  expect(vectors.filter(({ id }) => id in LEFT_OUT)).toEqual([])
})

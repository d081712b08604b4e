// The checks that `npm run check` and `npm test` are made of. Each prints one line and returns
// how many passed and failed: a tool counts as one, tests as tests.
import { mkdirSync, readFileSync, rmSync } from 'node:fs'
import { forgetDevelopmentTypes } from './build.mjs'
import { inRoot } from './paths.mjs'
import { runTool } from './run.mjs'
import { seconds } from './steps.mjs'

const LINES_OF_A_FAILURE = 40
const REPORTS = inRoot('.kerfwatch', 'reports')

const firstLines = (text, count) => text.trim().split('\n').slice(0, count).join('\n')
const count = (number, word) => `${number} ${word}${number === 1 ? '' : 's'}`

/** Runs one check, prints its line with the time, and never throws. */
export async function check(name, work) {
  const from = performance.now()
  process.stdout.write(`  ${name} ${'.'.repeat(Math.max(3, 34 - name.length))} `)
  const result = await work().catch((error) => ({
    passed: 0,
    failed: 1,
    said: [error.message, error.stdout, error.stderr].filter(Boolean).join('\n'),
  }))
  const verdict = result.failed > 0 ? `FAILED (${result.failed})` : (result.note ?? 'passed')
  console.log(`${seconds(performance.now() - from)}  ${verdict}`)
  if (result.failed > 0) console.log(`\n${result.said}\n`)
  return { passed: result.passed, failed: result.failed }
}

async function tool(script, args, options) {
  const { code, stdout, stderr } = await runTool(script, args, { ...options, isFailureFine: true })
  if (code === 0) return { passed: 1, failed: 0 }
  return { passed: 0, failed: 1, said: firstLines(`${stdout}\n${stderr}`, 120) }
}

export const lint = () =>
  check('Lint, format, import arrows', () =>
    tool('@biomejs/biome/bin/biome', ['check', '--error-on-warnings', '--max-diagnostics=50']),
  )

export const types = () =>
  check('Types', async () => {
    forgetDevelopmentTypes()
    const generated = await tool('next/dist/bin/next', ['typegen'], {
      env: { ...process.env, NEXT_TELEMETRY_DISABLED: '1' },
    })
    return generated.failed > 0 ? generated : tool('typescript/bin/tsc', ['--noEmit', '-p', '.'])
  })

export const deadCode = () => check('Dead code', () => tool('knip/bin/knip.js', []))

function kindOf(file) {
  if (/\.published\.test\./.test(file)) return 'published'
  if (/\.prop\.test\./.test(file)) return 'property'
  if (file.includes('/test/data/') || file.includes('/test/faults/')) return 'database'
  return 'unit'
}

function readVitest(file) {
  const { testResults } = JSON.parse(readFileSync(file, 'utf8'))
  const kinds = new Map()
  const failures = []
  let failed = 0
  for (const { name, assertionResults, message, status } of testResults) {
    if (assertionResults.length === 0 && status === 'failed') {
      failed += 1
      failures.push(`${name}\n${message}`)
    }
    for (const { status: verdict, fullName, failureMessages } of assertionResults) {
      if (verdict === 'passed') kinds.set(kindOf(name), (kinds.get(kindOf(name)) ?? 0) + 1)
      else if (verdict === 'failed') {
        failed += 1
        failures.push(`${name}\n  ${fullName}\n${failureMessages.join('\n')}`)
      }
    }
  }
  const passed = [...kinds.values()].reduce((sum, number) => sum + number, 0)
  return { passed, failed, kinds, failures }
}

async function vitest(project, args) {
  mkdirSync(REPORTS, { recursive: true })
  const report = inRoot('.kerfwatch', 'reports', `${project}.json`)
  rmSync(report, { force: true })
  const { code, stdout, stderr } = await runTool(
    'vitest/vitest.mjs',
    ['run', '--project', project, '--reporter=json', `--outputFile=${report}`, ...args],
    { isFailureFine: true },
  )
  const result = readVitest(report)
  const note = [...result.kinds].map(([kind, number]) => `${number} ${kind}`).join(', ')
  // No test at all, or an error outside any test: never a pass.
  const isBroken = result.failed === 0 && (code !== 0 || result.passed === 0)
  const said = [
    ...result.failures.map((text) => firstLines(text, LINES_OF_A_FAILURE)),
    isBroken ? stdout + stderr : '',
  ]
  return {
    passed: result.passed,
    failed: result.failed + (isBroken ? 1 : 0),
    note,
    said: said.join('\n\n'),
  }
}

export const unitTests = (args = []) =>
  check('Unit, property, published tests', () => vitest('unit', args))

export const dataTests = (args = []) => check('Database tests', () => vitest('data', args))

function* specsOf(suite, titles = []) {
  for (const spec of suite.specs ?? [])
    yield { ...spec, title: [...titles, spec.title].join(' > ') }
  for (const inner of suite.suites ?? []) yield* specsOf(inner, [...titles, inner.title])
}

function readPlaywright(file) {
  const { suites, errors, stats } = JSON.parse(readFileSync(file, 'utf8'))
  const failures = suites
    .flatMap((suite) => [...specsOf(suite, [suite.title])])
    .filter((spec) => !spec.ok)
    .map((spec) => {
      const messages = spec.tests.flatMap((one) =>
        one.results.flatMap((result) => result.errors ?? []),
      )
      return `${spec.title}\n${messages.map((error) => error.message ?? '').join('\n')}`
    })
  const broken = errors.map((error) => error.message ?? String(error))
  return {
    passed: stats.expected,
    failed: stats.unexpected + stats.flaky + broken.length,
    said: [...broken, ...failures].map((text) => firstLines(text, LINES_OF_A_FAILURE)).join('\n\n'),
    note: count(stats.expected, 'browser test'),
  }
}

/** Browser tests; `env` says where the server, the filled template and the browser are. */
export const browserTests = (env, args = []) =>
  check('Browser tests', async () => {
    const report = inRoot('.kerfwatch', 'reports', 'browser.json')
    mkdirSync(REPORTS, { recursive: true })
    rmSync(report, { force: true })
    const { stdout, stderr } = await runTool(
      '@playwright/test/cli.js',
      ['test', '--reporter=json', ...args],
      {
        env: { ...process.env, ...env, PLAYWRIGHT_JSON_OUTPUT_NAME: report },
        isFailureFine: true,
      },
    )
    const result = readPlaywright(report)
    if (result.passed + result.failed > 0) return result
    return { passed: 0, failed: 1, said: `no browser test ran\n${stdout}${stderr}` }
  })

/** The closing line, alone on its line; the exit code follows it. */
export function close(results) {
  const sum = (key) => results.reduce((total, result) => total + result[key], 0)
  console.log(`\n${sum('passed')} passed, ${sum('failed')} failed`)
  return sum('failed') > 0 || sum('passed') === 0 ? 1 : 0
}

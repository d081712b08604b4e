// Finds test/bench/*.ts or test/proof/*.ts and runs each in a process and a database of its own.
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { generateClient } from './generate.mjs'
import { inRoot } from './paths.mjs'
import { startProgram } from './run.mjs'
import { onEnd } from './steps.mjs'
import { copyTemplate, startTestServer, testTemplate } from './test-cluster.mjs'
import { runtimeUrl } from './urls.mjs'

/** The files of a folder by name: test/bench/pages.ts is "pages". */
export function listRuns(folder) {
  const at = inRoot('test', folder)
  if (!existsSync(at)) return []
  return readdirSync(at)
    .filter((file) => file.endsWith('.ts') && !file.endsWith('.d.ts'))
    .map((file) => file.slice(0, -'.ts'.length))
    .sort()
}

/** Test server and migrated template for all runs of this command. */
export async function openRunServer() {
  await generateClient()
  const server = await startTestServer()
  onEnd(server.stop)
  return { ownerUrl: server.ownerUrl, template: await testTemplate(server.ownerUrl) }
}

/**
 * Runs one file's `run(context)`. What it prints goes to stderr, so that stdout stays the
 * command's own.
 * @returns {Promise<{ name: string, result: unknown }>}
 */
export async function runFile({ folder, file, server, options = {} }) {
  const ownerUrl = await copyTemplate(server.ownerUrl, server.template)
  const scratch = mkdtempSync(path.join(tmpdir(), 'kerfwatch-run-'))
  const answer = path.join(scratch, 'answer.json')
  const program = startProgram(
    process.execPath,
    [
      '--conditions=react-server',
      '--import',
      'tsx',
      inRoot('bin', 'lib', 'run-one.mjs'),
      inRoot('test', folder, `${file}.ts`),
      answer,
    ],
    {
      env: {
        ...process.env,
        DATABASE_URL: ownerUrl,
        KERFWATCH_DATABASE_URL: runtimeUrl(ownerUrl),
        KERFWATCH_TEST_SERVER: server.ownerUrl,
        KERFWATCH_TEST_TEMPLATE: server.template,
        KERFWATCH_RUN_OPTIONS: JSON.stringify(options),
      },
      stdio: ['ignore', process.stderr, process.stderr, 'ipc'],
    },
  )
  onEnd(program.stop)
  const { code } = await program.ended
  try {
    if (code !== 0) throw new Error(`test/${folder}/${file}.ts ended with exit code ${code}`)
    return JSON.parse(readFileSync(answer, 'utf8'))
  } finally {
    rmSync(scratch, { recursive: true, force: true })
  }
}

/** The names asked for on the command line, or all; an unknown one ends the command. */
export function chooseRuns(folder, args) {
  const all = listRuns(folder)
  const asked = args.filter((arg) => !arg.startsWith('-'))
  const unknown = asked.filter((name) => !all.includes(name))
  if (unknown.length > 0) {
    console.error(
      `There is no ${unknown.join(', ')} in test/${folder}. There are: ${all.join(' ') || 'none'}`,
    )
    process.exit(2)
  }
  return asked.length > 0 ? asked : all
}

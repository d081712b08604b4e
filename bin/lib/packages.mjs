// Brings node_modules to what package-lock.json says. Node's own modules only.
import { existsSync, readFileSync } from 'node:fs'
import { inRoot } from './paths.mjs'
import { run } from './run.mjs'
import { StepError } from './steps.mjs'

const LEAST_NODE = [20, 19]

export function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number)
  if (major > LEAST_NODE[0] || (major === LEAST_NODE[0] && minor >= LEAST_NODE[1])) return
  throw new StepError(
    `This is Node ${process.versions.node}; ${LEAST_NODE.join('.')} or later is needed.`,
    'Install a current Node from nodejs.org and run the command again.',
  )
}

const readJson = (file) => JSON.parse(readFileSync(file, 'utf8'))

/** Whether everything in the lock file is installed in its version; optional packages may miss. */
export function arePackagesInstalled() {
  const installedFile = inRoot('node_modules', '.package-lock.json')
  if (!existsSync(installedFile)) return false
  const installed = readJson(installedFile).packages ?? {}
  return Object.entries(readJson(inRoot('package-lock.json')).packages).every(
    ([name, wanted]) =>
      name === '' || wanted.optional || installed[name]?.version === wanted.version,
  )
}

/** @returns {Promise<boolean>} whether anything had to be installed */
export async function installPackages() {
  if (arePackagesInstalled()) return false
  const npm = process.env.npm_execpath
  const isScript = npm !== undefined && /npm-cli\.[cm]?js$/.test(npm)
  const [program, first] = isScript
    ? [process.execPath, [npm]]
    : [process.platform === 'win32' ? 'npm.cmd' : 'npm', []]
  await run(program, [...first, 'ci', '--include=dev', '--no-audit', '--no-fund'])
  return true
}

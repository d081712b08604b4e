// Finds a browser for the browser tests, or gets one.
import { existsSync } from 'node:fs'
import path from 'node:path'
import { chromium } from '@playwright/test'
import { isRoot } from './postgres-files.mjs'
import { run, runTool } from './run.mjs'
import { StepError } from './steps.mjs'

const NAMES = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome']
const ELSEWHERE = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
]

function systemBrowser() {
  const folders = (process.env.PATH ?? '').split(path.delimiter)
  const candidates = [
    ...NAMES.flatMap((name) => folders.map((folder) => path.join(folder, name))),
    ...ELSEWHERE,
  ]
  return candidates.find((file) => existsSync(file)) ?? null
}

function knownBrowser() {
  const given = process.env.KERFWATCH_CHROMIUM
  if (given) return given
  const own = chromium.executablePath()
  return existsSync(own) ? own : systemBrowser()
}

async function install() {
  const ways = [
    async () => {
      if (!isRoot() || !existsSync('/usr/bin/apt-get')) return
      await run('apt-get', ['update'])
      await run('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'])
    },
    () => runTool('@playwright/test/cli.js', ['install', 'chromium']),
  ]
  for (const way of ways) {
    await way().catch(() => {}) // the next way may do; if none does, the caller says so
    if (knownBrowser()) return
  }
}

/** The path of a Chromium or Chrome; installs one when there is none. */
export async function findBrowser(note) {
  const known = knownBrowser()
  if (known) {
    note(known)
    return known
  }
  await install()
  const installed = knownBrowser()
  if (installed) {
    note(`installed ${installed}`)
    return installed
  }
  throw new StepError(
    'No Chromium or Chrome was found, and none could be installed.',
    'Install Chromium or Chrome, or set KERFWATCH_CHROMIUM to its path, and run the command again.',
  )
}

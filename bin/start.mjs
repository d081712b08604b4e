#!/usr/bin/env node
// npm start and npm run dev: from a fresh clone to a running app. Node's own modules only until
// the packages are installed.
import { checkNode, installPackages } from './lib/packages.mjs'
import { endAll, endOnSignals, secondsSinceStart, step } from './lib/steps.mjs'

const isDevelopment = process.argv.includes('--dev')
const host = process.env.HOST ?? '127.0.0.1'

endOnSignals()
console.log(`Kerfwatch: ${isDevelopment ? 'development' : 'starting'}\n`)

await step(
  'Packages',
  'Check the network and the disk, then run the command again.',
  async (note) => {
    checkNode()
    note((await installPackages()) ? 'installed' : 'up to date')
  },
)

const setup = await import('./lib/setup.mjs')
const web = await import('./lib/web.mjs')

const ownerUrl = await setup.openDatabase()
await setup.prepareDatabase(ownerUrl)
const { emptyCompany } = await import('./lib/empty-company.mjs')
await setup.fillDatabase(ownerUrl, emptyCompany(process.argv.slice(2)))

const port = await step('Port', 'Set PORT to a free port.', async (note) => {
  const free = await web.choosePort(host)
  note(`${free}`)
  return free
})
const url = process.env.NEXTAUTH_URL ?? `http://localhost:${port}`
const options = { ownerUrl, port, host, url, secret: setup.sessionSecret() }

const running = isDevelopment ? await startDevelopment() : await startProduction()
await sayHowToSignIn()

const { code } = await running.ended
await endAll()
process.exit(code ?? 0)

async function startProduction() {
  const { buildIfChanged } = await import('./lib/build.mjs')
  await step(
    'Production build',
    'The lines above name the file that does not build.',
    async (note) => {
      note((await buildIfChanged()) ? 'built' : 'sources unchanged')
    },
  )
  return step('Web process', 'Read the lines above.', () => web.startWeb(options))
}

async function startDevelopment() {
  const { startProgram } = await import('./lib/run.mjs')
  const { onEnd } = await import('./lib/steps.mjs')
  const { inRoot } = await import('./lib/paths.mjs')
  const started = startProgram(
    process.execPath,
    [inRoot('node_modules/next/dist/bin/next'), 'dev', '-p', String(port), '-H', host],
    { env: { ...web.webEnv(options), NODE_ENV: 'development' } },
  )
  onEnd(started.stop)
  return started
}

async function sayHowToSignIn() {
  const { demoSignIns, nobodyYet } = await import('./lib/demo.mjs')
  console.log(`\nReady after ${secondsSinceStart()}: ${url}   (Ctrl-C stops it)\n`)
  for (const line of await demoSignIns(ownerUrl)) console.log(line)
  for (const line of await nobodyYet(ownerUrl)) console.log(line)
}

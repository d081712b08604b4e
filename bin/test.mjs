#!/usr/bin/env node
// npm test: the set-up of npm start in databases of its own, then every check there is.
// npm test -- NAME ... runs only those: lint types dead unit data browser. What follows a second
// "--" goes to the test runner: npm test -- data -- test/data/auth
import { checkNode, installPackages } from './lib/packages.mjs'
import { endAll, endOnSignals, onEnd, secondsSinceStart, step } from './lib/steps.mjs'

const ALL = ['lint', 'types', 'dead', 'unit', 'data', 'browser']
const [names, passedOn] = splitArguments(process.argv.slice(2))
const wanted = names.length > 0 ? names : ALL
const unknown = wanted.filter((name) => !ALL.includes(name))
if (unknown.length > 0) {
  console.error(`There is no check named ${unknown.join(', ')}. There are: ${ALL.join(' ')}`)
  process.exit(2)
}

endOnSignals()
console.log('Kerfwatch: every check\n')
await step(
  'Packages',
  'Check the network and the disk, then run the command again.',
  async (note) => {
    checkNode()
    note((await installPackages()) ? 'installed' : 'up to date')
  },
)
const { generateClient } = await import('./lib/generate.mjs')
const checks = await import('./lib/checks.mjs')
await step('Database client', 'Check prisma/schema.prisma against the lines above.', generateClient)

const server = wanted.some((name) => name === 'data' || name === 'browser')
  ? await startServer()
  : null

const RUN = {
  lint: checks.lint,
  types: checks.types,
  dead: checks.deadCode,
  unit: () => checks.unitTests(passedOn),
  data: () => checks.dataTests(passedOn),
  browser: async () => checks.browserTests(await prepareBrowserTests(), passedOn),
}
console.log('')
const results = []
for (const name of ALL.filter((one) => wanted.includes(one))) results.push(await RUN[name]())

await endAll()
console.log(`\nafter ${secondsSinceStart()}`)
process.exit(checks.close(results))

function splitArguments(args) {
  const at = args.indexOf('--')
  return at < 0 ? [args, []] : [args.slice(0, at), args.slice(at + 1)]
}

async function startServer() {
  const { startTestServer, testTemplate } = await import('./lib/test-cluster.mjs')
  const started = await step(
    'Test database server',
    'Read the lines above, or set DATABASE_URL to a server where the owner may create databases and a role.',
    startTestServer,
  )
  onEnd(started.stop)
  const template = await step(
    'Roles and migrations',
    'The lines above name the migration that does not apply.',
    () => testTemplate(started.ownerUrl),
  )
  return { ownerUrl: started.ownerUrl, template }
}

async function prepareBrowserTests() {
  const { findBrowser } = await import('./lib/browser.mjs')
  const { buildIfChanged } = await import('./lib/build.mjs')
  const { makeDemoTemplate } = await import('./lib/test-cluster.mjs')
  const browser = await step('Browser', 'Install Chromium or Chrome.', findBrowser)
  await step(
    'Production build',
    'The lines above name the file that does not build.',
    async (note) => {
      note((await buildIfChanged()) ? 'built' : 'sources unchanged')
    },
  )
  const template = await step('Demo company for the browser', 'Read the lines above.', () =>
    makeDemoTemplate(server.ownerUrl, server.template),
  )
  return {
    KERFWATCH_CHROMIUM: browser,
    KERFWATCH_TEST_SERVER: server.ownerUrl,
    KERFWATCH_TEST_TEMPLATE: template,
  }
}

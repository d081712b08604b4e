// npm run screens: pictures of the demo company's screens, phone and desk, light and dark, into
// .kerfwatch/screens, and those that the README shows into test/screens/readme. Names after "--"
// take only those screens; --readme takes only the README's.
import { findBrowser } from '../../bin/lib/browser.mjs'
import { buildIfChanged } from '../../bin/lib/build.mjs'
import { generateClient } from '../../bin/lib/generate.mjs'
import { inRoot } from '../../bin/lib/paths.mjs'
import { startProgram } from '../../bin/lib/run.mjs'
import { endAll, endOnSignals, onEnd, step } from '../../bin/lib/steps.mjs'
import { makeDemoTemplate, startTestServer, testTemplate } from '../../bin/lib/test-cluster.mjs'

endOnSignals()
await step('Database client', 'Check prisma/schema.prisma.', generateClient)
await step('Production build', 'The lines above name the file that does not build.', buildIfChanged)
const browser = await step('Browser', 'Install Chromium or Chrome.', findBrowser)
const server = await step('Test database server', 'Read the lines above.', startTestServer)
onEnd(server.stop)
const demo = await step('Demo company', 'Read the lines above.', async () =>
  makeDemoTemplate(server.ownerUrl, await testTemplate(server.ownerUrl)),
)
const camera = startProgram(
  process.execPath,
  ['--import', 'tsx', inRoot('test', 'screens', 'take.ts'), ...process.argv.slice(2)],
  {
    env: {
      ...process.env,
      TZ: 'America/New_York',
      KERFWATCH_CHROMIUM: browser,
      KERFWATCH_TEST_SERVER: server.ownerUrl,
      KERFWATCH_TEST_TEMPLATE: demo,
    },
  },
)
onEnd(camera.stop)
const { code } = await camera.ended
await endAll()
process.exit(code ?? 1)

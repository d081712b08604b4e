// npm run screens: pictures of the demo company's screens, phone and desk, light and dark, into
// .kerfwatch/screens, and those that the README shows into test/screens/readme.
import { mkdirSync } from 'node:fs'
import { chromium } from '@playwright/test'
import { findBrowser } from '../../bin/lib/browser.mjs'
import { buildIfChanged } from '../../bin/lib/build.mjs'
import { withClient } from '../../bin/lib/database.mjs'
import { generateClient } from '../../bin/lib/generate.mjs'
import { inRoot } from '../../bin/lib/paths.mjs'
import { endAll, endOnSignals, onEnd } from '../../bin/lib/steps.mjs'
import { makeDemoTemplate, startTestServer, testTemplate } from '../../bin/lib/test-cluster.mjs'
import { databaseUrl } from '../../bin/lib/urls.mjs'
import { startTestWeb } from '../../bin/lib/web.mjs'

const PASSWORD = 'square-end-417'
const PHONE = { width: 360, height: 780 }
const DESK = { width: 1440, height: 900 }
const ARGUMENTS = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run']

endOnSignals()
await generateClient()
await buildIfChanged()
const server = await startTestServer()
onEnd(server.stop)
const demo = await makeDemoTemplate(server.ownerUrl, await testTemplate(server.ownerUrl))
const ownerUrl = databaseUrl(server.ownerUrl, demo)
const web = await startTestWeb({ ownerUrl, secret: 'screens: Wq8nTz4LxKp2Rj6VhYb9McGd3FsU' })
onEnd(web.stop)

const one = (sql) =>
  withClient(ownerUrl, async (client) => Object.values((await client.query(sql)).rows[0] ?? {})[0])
const mill = await one("SELECT id FROM sites WHERE name = 'Ostrander Mill'")
const permitIn = (state) =>
  one(
    `SELECT id FROM permits WHERE site_id = '${mill}' AND state = '${state}' ORDER BY state_at DESC LIMIT 1`,
  )
const permit = Object.fromEntries(
  await Promise.all(
    ['preparing', 'open', 'held', 'watch', 'closed'].map(async (state) => [
      state,
      await permitIn(state),
    ]),
  ),
)
const job = await one(`SELECT id FROM jobs WHERE site_id = '${mill}' AND number = '0417'`)
const audited = await one(
  "SELECT id FROM jobs WHERE state = 'done' ORDER BY planned_start DESC LIMIT 1",
)
const cylinder = await one(
  `SELECT id FROM cylinders WHERE site_id = '${mill}' AND status = 'in_use' AND gas_id = 'oxygen' LIMIT 1`,
)

/** name, who is signed in, address, and the size and theme in which the README shows it. */
const SCREENS = [
  ['today', 'dana.whitlock', '/today', 'phone'],
  ['cuts', 'dana.whitlock', '/cuts', null],
  ['job', 'dana.whitlock', `/jobs/${job}`, 'phone'],
  ['permits', 'dana.whitlock', '/permits', null],
  ['permit', 'dana.whitlock', `/permits/${permit.open}`, 'phone'],
  ['held', 'dana.whitlock', `/permits/${permit.held}`, null],
  ['clearance', 'dana.whitlock', `/permits/${permit.preparing}/clearance`, 'phone'],
  ['watch', 'mei.tran', `/permits/${permit.watch}/watch`, 'phone'],
  ['close', 'mei.tran', `/permits/${permit.watch}/close`, null],
  ['posted', 'dana.whitlock', `/permits/${permit.open}/posted`, null],
  ['cylinders', 'dana.whitlock', '/cylinders', null],
  ['cylinder', 'dana.whitlock', `/cylinders/${cylinder}`, null],
  ['delivery', 'dana.whitlock', '/deliveries/new', null],
  ['outside', 'dana.whitlock', '/outside', null],
  ['sites', 'jo.pruitt', '/sites', 'desk'],
  ['orders', 'jo.pruitt', `/orders?site=${mill}`, null],
  ['audit', 'jo.pruitt', '/audit', 'desk'],
  ['audit-job', 'jo.pruitt', `/audit/${audited}`, 'desk'],
  ['people', 'jo.pruitt', '/people', null],
  ['me', 'jo.pruitt', '/me', null],
  ['records', 'edda.varley', '/records', null],
  ['record', 'edda.varley', `/permits/${permit.closed}/record`, 'desk'],
]

const out = inRoot('.kerfwatch', 'screens')
mkdirSync(out, { recursive: true })
const browser = await chromium.launch({
  executablePath: await findBrowser(() => undefined),
  args: ARGUMENTS,
})
const contexts = new Map()

async function contextOf(who) {
  if (contexts.has(who)) return contexts.get(who)
  const context = await browser.newContext({ baseURL: web.url, timezoneId: 'America/New_York' })
  const page = await context.newPage()
  await page.goto('/sign-in')
  await page.getByLabel('E-mail').fill(`${who}@ferrowdunn.example`)
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Sign in', exact: true }).click()
  await page.waitForURL((url) => !url.pathname.includes('sign-in'))
  contexts.set(who, page)
  return page
}

const onlyReadme = process.argv.includes('--readme')
for (const [name, who, address, shown] of SCREENS) {
  if (onlyReadme && !shown) continue
  const page = await contextOf(who)
  for (const [size, viewport] of [
    ['phone', PHONE],
    ['desk', DESK],
  ]) {
    if (onlyReadme && size !== shown) continue
    for (const theme of onlyReadme ? ['light'] : ['light', 'dark']) {
      await page.setViewportSize(viewport)
      await page.emulateMedia({ colorScheme: theme })
      await page.goto(address, { waitUntil: 'load' })
      await page.evaluate(() => document.fonts.ready)
      await page.screenshot({ path: `${out}/${name}-${size}-${theme}.png` })
      if (size === shown && theme === 'light')
        await page.screenshot({ path: inRoot('test', 'screens', 'readme', `${size}-${name}.png`) })
      console.log(`${name} ${size} ${theme}`)
    }
  }
}
await browser.close()
await endAll()
process.exit(0)

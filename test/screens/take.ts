import { mkdirSync } from 'node:fs'
import path from 'node:path'
import { type Browser, type BrowserContext, chromium, type Page } from '@playwright/test'
import sharp from 'sharp'
import { startApp, type TestApp } from '../e2e/app'
import { listScreens, type Screen, type Size } from './list'

const HERE = import.meta.dirname
const PICTURES = path.resolve(HERE, '../../.kerfwatch/screens')
const README = path.join(HERE, 'readme')
const VIEWPORT = {
  phone: { width: 360, height: 780 },
  desk: { width: 1440, height: 900 },
  /** Letter at 96 px an inch, which is what sheets are set for. */
  paper: { width: 816, height: 1056 },
} as const
const ARGUMENTS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/** A page of that person, its own context each: nobody sees what another chose. */
async function pageOf(browser: Browser, app: TestApp, email: string | null): Promise<Page> {
  const context: BrowserContext = await browser.newContext({
    baseURL: app.url,
    timezoneId: 'America/New_York',
    reducedMotion: 'reduce',
  })
  if (email) await context.addCookies([await app.sessionCookie(email)])
  return context.newPage()
}

async function settle(page: Page) {
  await page.evaluate(() => document.fonts.ready)
  await page.waitForTimeout(600)
}

async function takeAll(page: Page, screen: Screen) {
  for (const size of ['phone', 'desk'] as const satisfies readonly Size[]) {
    for (const theme of ['light', 'dark'] as const) {
      await page.setViewportSize(VIEWPORT[size])
      await page.emulateMedia({ colorScheme: theme })
      await page.goto(screen.address, { waitUntil: 'load' })
      await settle(page)
      const name = `${screen.name}-${size}-${theme}`
      await page.screenshot({ path: path.join(PICTURES, `${name}.png`) })
      await page.screenshot({ path: path.join(PICTURES, `${name}-whole.png`), fullPage: true })
    }
  }
  if (screen.isPrinted) {
    await onPaper(page, screen)
    await page.screenshot({ path: path.join(PICTURES, `${screen.name}-paper.png`) })
    await page.emulateMedia({ media: 'screen' })
  }
  console.log(screen.name)
}

const README_LIMIT_BYTES = 150_000

/** Few inks and flat surfaces: a palette keeps them as they are in a third of the bytes. */
async function keepForReadme(page: Page, file: string) {
  const { size } = await sharp(await page.screenshot())
    .png({ palette: true, colours: 64, effort: 10, compressionLevel: 9 })
    .toFile(path.join(README, `${file}.png`))
  if (size > README_LIMIT_BYTES)
    throw new Error(`${file}.png is ${size} bytes, too many for the README`)
}

/** As it prints. */
async function onPaper(page: Page, { address }: Screen) {
  await page.setViewportSize(VIEWPORT.paper)
  await page.emulateMedia({ colorScheme: 'light', media: 'screen' })
  await page.goto(address, { waitUntil: 'load' })
  await page.emulateMedia({ media: 'print' })
  await settle(page)
}

async function takeForReadme(page: Page, screen: Screen) {
  const { readme, address } = screen
  if (!readme) return
  if (readme.size === 'paper') await onPaper(page, screen)
  else {
    await page.emulateMedia({ colorScheme: 'light', media: 'screen' })
    await page.setViewportSize(VIEWPORT[readme.size])
    await page.goto(address, { waitUntil: 'load' })
    await settle(page)
  }
  await keepForReadme(page, readme.file)
}

const asked = process.argv.slice(2)
const isOnlyReadme = asked.includes('--readme')
const names = asked.filter((one) => !one.startsWith('--'))
for (const folder of [PICTURES, README]) mkdirSync(folder, { recursive: true })

const app = await startApp()
const browser = await chromium.launch({
  ...(process.env.KERFWATCH_CHROMIUM ? { executablePath: process.env.KERFWATCH_CHROMIUM } : {}),
  args: ARGUMENTS,
})
try {
  for (const screen of await listScreens(app.owner)) {
    if (names.length > 0 && !names.includes(screen.name)) continue
    if (isOnlyReadme && !screen.readme) continue
    const page = await pageOf(browser, app, screen.email)
    if (!isOnlyReadme) await takeAll(page, screen)
    await takeForReadme(page, screen)
    await page.context().close()
  }
} finally {
  await browser.close()
  await app.stop()
}

import AxeBuilder from '@axe-core/playwright'
import { type BrowserContext, test as base, expect, type Page } from '@playwright/test'
import { startApp, type TestApp } from './app'

/** An answer's status, or a page that could not be fetched: what the app then shows is asked of the screen. */
const STATUS_OR_SIGNAL = /^Failed to (load resource|fetch RSC payload)/
const WCAG = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

interface TestFixtures {
  /** Signs this test's browser in by cookie; only the sign-in spec uses the page. */
  signInAs: (email: string) => Promise<void>
  /** The same for another browser, with nothing shared: a second person. */
  openAs: (email: string) => Promise<BrowserContext>
  /** What axe finds on a page as it stands: the rule and where. */
  violationsOf: (page: Page) => Promise<string[]>
  /** axe finds nothing on this test's page, or on another's, as it stands. */
  expectAccessible: (of?: Page) => Promise<void>
  noConsoleErrors: undefined
}

interface WorkerFixtures {
  /** The running app of this worker, with a demo company of its own. */
  app: TestApp
}

export const test = base.extend<TestFixtures, WorkerFixtures>({
  app: [
    // biome-ignore lint/correctness/noEmptyPattern: the runner reads the names from the pattern
    async ({}, use) => {
      const app = await startApp()
      await use(app)
      await app.stop()
    },
    { scope: 'worker', timeout: 120_000 },
  ],

  baseURL: async ({ app }, use) => use(app.url),

  signInAs: async ({ app, context }, use) => {
    await use(async (email) => context.addCookies([await app.sessionCookie(email)]))
  },

  openAs: async ({ app, browser }, use) => {
    const opened: BrowserContext[] = []
    await use(async (email) => {
      const context = await browser.newContext({ baseURL: app.url })
      opened.push(context)
      await context.addCookies([await app.sessionCookie(email)])
      return context
    })
    for (const context of opened) await context.close()
  },

  // biome-ignore lint/correctness/noEmptyPattern: the runner reads the names from the pattern
  violationsOf: async ({}, use) => {
    await use(async (page) => {
      // A page's title may come a moment after the page itself; one that never comes is found by axe.
      await page
        .waitForFunction(() => document.title !== '', null, { timeout: 5_000 })
        .catch(() => {})
      // What stays at the bottom edge covers what scrolls under it; at the end it covers nothing.
      await page.evaluate(() => window.scrollTo(0, document.documentElement.scrollHeight))
      const { violations } = await new AxeBuilder({ page }).withTags(WCAG).analyze()
      return violations.map(
        ({ id, nodes }) => `${id} at ${nodes.map((node) => node.target).join(' and ')}`,
      )
    })
  },

  expectAccessible: async ({ page, violationsOf }, use) => {
    await use(async (of = page) => expect(await violationsOf(of)).toEqual([]))
  },

  // A refused script or a broken hydration shows only here.
  noConsoleErrors: [
    async ({ page }, use) => {
      const said: string[] = []
      page.on('console', (message) => {
        const isExpected = STATUS_OR_SIGNAL.test(message.text())
        if (message.type() === 'error' && !isExpected) said.push(message.text())
      })
      page.on('pageerror', (error) => said.push(error.message))
      await use(undefined)
      expect(said).toEqual([])
    },
    { auto: true },
  ],
})

export { expect }

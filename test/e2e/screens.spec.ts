import type { Page } from '@playwright/test'
import messages from '../../messages/en.json' with { type: 'json' }
import { listScreens, type Screen, type Size } from '../screens/list'
import { expect, test } from './fixtures'

const VIEWPORT = { phone: { width: 360, height: 780 }, desk: { width: 1440, height: 900 } } as const

// One size a worker: each has its own company, and nothing here changes it.
test.describe.configure({ mode: 'parallel' })

/** What stands where words are missing, or lack a figure: their key. */
const KEY = new RegExp(`\\b(${Object.keys(messages).join('|')})(\\.[a-zA-Z_]+){2,}`)

/** Controls that are seen and can't be reached with Tab. Of a radio group only one ever is. */
const unreachable = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('a, button, input, select, textarea, summary')]
      .filter((control) => !(control instanceof HTMLInputElement && control.type === 'hidden'))
      .filter((control) => control.checkVisibility() && !control.closest('[inert]'))
      .filter(
        (control) => control.tabIndex < 0 || (control.matches('a') && !control.matches('[href]')),
      )
      .map((control) => control.outerHTML.slice(0, 120)),
  )

/**
 * Colours are the same at both sizes, so each theme is tried at one: the dark one where it is used in
 * the dark. EVERY_THEME tries both at both, in twice the time.
 */
const THEMES = { phone: ['dark'], desk: ['light'] } as const
const BOTH = ['light', 'dark'] as const
const themesAt = (size: Size) => (process.env.EVERY_THEME ? BOTH : THEMES[size])

/** EVERY_SCREEN=1 is all of them, EVERY_SCREEN=plan,orders those two. */
const named = (process.env.EVERY_SCREEN ?? '').split(',').filter((name) => name && name !== '1')
const isWanted = ({ name }: Screen) => named.length === 0 || named.includes(name)

for (const size of ['phone', 'desk'] as const satisfies readonly Size[]) {
  test(`every screen at the ${size}’s width can be read, reached and seen whole`, async ({
    app,
    browser,
    violationsOf,
  }) => {
    test.setTimeout(15 * 60_000) // some 60 screens; two minutes where the machine has nothing else to do
    const screens = (await listScreens(app.owner)).filter(isWanted)
    expect(screens).not.toEqual([])
    const faults: string[] = []
    const look = async (page: Page, { name, address }: Screen) => {
      const found = (fault: string) => faults.push(`${name}: ${fault}`)
      await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' })
      await page.goto(address, { waitUntil: 'load' })
      await expect(page.locator('h1').first()).toBeAttached()
      const width = await page.evaluate(() => document.documentElement.scrollWidth)
      if (width > VIEWPORT[size].width) found(`${width} px wide`)
      // biome-ignore lint/performance/useDomNodeTextContent: what is seen, not what scripts carry
      const [bare] = (await page.evaluate(() => document.body.innerText)).match(KEY) ?? []
      if (bare) found(`says ${bare}, which is the name of words and not the words`)
      for (const control of await unreachable(page)) found(`no Tab reaches ${control}`)
      for (const theme of themesAt(size)) {
        await page.emulateMedia({ colorScheme: theme, reducedMotion: 'reduce' })
        for (const violation of await violationsOf(page)) found(`${theme}, ${violation}`)
      }
    }
    const people = new Set(screens.map((screen) => screen.email))
    for (const email of people) {
      const context = await browser.newContext({ baseURL: app.url, viewport: VIEWPORT[size] })
      if (email) await context.addCookies([await app.sessionCookie(email)])
      const page = await context.newPage()
      let current = ''
      page.on('pageerror', (error) => faults.push(`${current}: ${error.message}`))
      page.on('console', (message) => {
        const isStatus = message.text().startsWith('Failed to load resource')
        if (message.type() === 'error' && !isStatus) faults.push(`${current}: ${message.text()}`)
      })
      for (const screen of screens.filter((one) => one.email === email)) {
        current = screen.name
        await look(page, screen)
      }
      await context.close()
    }
    expect(faults).toEqual([])
  })
}

import type { Page } from '@playwright/test'

/**
 * Opens an address and waits until its streamed part stands once: for a moment after loading, what
 * the server drew may still lie hidden beside what the browser has drawn.
 */
export async function visit(page: Page, address: string): Promise<void> {
  await page.goto(address)
  await settled(page)
}

/** The same of a page that is loaded anew. */
export async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => !document.querySelector('div[hidden][id^="S:"]'))
}

/** Waits until the page has gone on; where it did not, the failure tells what the page said. */
export async function arrive(page: Page, address: string | RegExp): Promise<void> {
  try {
    await page.waitForURL(address)
  } catch (error) {
    const said = await page.getByRole('alert').allInnerTexts()
    throw new Error(`Still on ${page.url()}, which says: ${said.join(' | ')}`, { cause: error })
  }
}

import type { Page } from '@playwright/test'

/**
 * Opens an address and waits until its streamed part stands once: for a moment after loading, what
 * the server drew may still lie hidden beside what the browser has drawn.
 */
export async function visit(page: Page, address: string): Promise<void> {
  await page.goto(address)
  await page.waitForFunction(() => !document.querySelector('div[hidden][id^="S:"]'))
}

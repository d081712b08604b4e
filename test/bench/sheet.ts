import { chromium } from '@playwright/test'
import { findBrowser } from '@/bin/lib/browser.mjs'
import { buildWorksite } from '@/seed/builders/permits'
import { startApp } from '../e2e/app'
import { typeAmongRows } from '../e2e/ten-thousand-rows'
import { visit } from '../e2e/visit'
import { percentile } from './measure/interleave'

export const name = 'The estimate sheet with 10,000 rows, in Chromium'

const MOST_MS = 50

export async function run() {
  const app = await startApp()
  const browser = await chromium.launch({
    executablePath: await findBrowser(() => {}),
    args: ['--no-sandbox', '--disable-gpu'],
  })
  try {
    const { team, job } = await buildWorksite(app.owner)
    const context = await browser.newContext({
      baseURL: app.url,
      locale: 'en-US',
      viewport: { width: 1440, height: 900 },
    })
    await context.addCookies([await app.sessionCookie(team.foreman.email)])
    const page = await context.newPage()
    await visit(page, `/jobs/${job.id}/sheet`)
    const keyMs = percentile(await typeAmongRows(page), 50)
    return {
      'Sheet: from a key to the new total, 10,000 rows (middle of 21 keys)': {
        value: Math.round(keyMs * 10) / 10,
        unit: 'ms',
        aim: `under ${MOST_MS}`,
        holds: keyMs < MOST_MS,
      },
    }
  } finally {
    await browser.close()
    await app.stop()
  }
}

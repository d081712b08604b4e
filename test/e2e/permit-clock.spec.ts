import type { BrowserContext, Page } from '@playwright/test'
import { buildOpenPermit, buildWorksite } from '../../seed/builders/permits'
import { expect, test } from './fixtures'
import { buildMorning, stateOf } from './moved-clock'
import { visit } from './visit'

const PHONE = { width: 360, height: 780 }
const DESK = { width: 1440, height: 900 }
const MINUTE_MS = 60_000
/** Without the stream a page looks again each thirty seconds: what comes in a few came by the stream. */
const BY_STREAM_MS = 5_000

/** A device whose clock was set wrong by so much. */
const wrongBy = (context: BrowserContext, ms: number) =>
  context.addInitScript((wrongMs) => {
    const real = Date.now.bind(Date)
    Date.now = () => real() + wrongMs
  }, ms)

/** How many seconds a screen says are left, and the real moment at which it said so. */
const shownOn = (page: Page) =>
  page.evaluate(() => {
    const words = [...document.querySelectorAll('.number')].map((one) => one.textContent ?? '')
    const left = words.find((text) => /^\d+ s left$/.test(text.replaceAll(/\s/g, ' ')))
    return {
      leftS: Number.parseInt(left ?? '', 10),
      realMs: performance.timeOrigin + performance.now(),
    }
  })

test('two phones and a desk show the same clock within a second, whatever their own say, and the same state', async ({
  app,
  openAs,
}) => {
  test.setTimeout(180_000)
  const worksite = await buildMorning(app)
  const { team } = worksite
  const { permit } = await buildOpenPermit(app.owner, { worksite, validForMin: 30 })
  const screens = [
    { email: team.operator.email, size: PHONE, wrongMs: 7 * MINUTE_MS },
    { email: team.fireWatch.email, size: PHONE, wrongMs: -3 * MINUTE_MS },
    { email: team.foreman.email, size: DESK, wrongMs: 0 },
  ]
  const pages: Page[] = []
  for (const { email, size, wrongMs } of screens) {
    const context = await openAs(email)
    await wrongBy(context, wrongMs)
    const page = await context.newPage()
    await page.setViewportSize(size)
    await visit(page, `/permits/${permit.id}`)
    await expect(page.getByText(/^(29|30)\smin left$/)).toBeVisible()
    pages.push(page)
  }
  const [phone, other, desk] = pages
  if (!phone || !other || !desk) throw new Error('three screens were opened')

  try {
    await test.step('in the last minute, second by second', async () => {
      const { rows } = await app.owner.query<{ ms: number }>(
        'SELECT extract(epoch FROM valid_until - clock_timestamp())::float8 * 1000 AS ms FROM permits WHERE id = $1',
        [permit.id],
      )
      const aheadMs = Math.trunc((rows[0]?.ms ?? Number.NaN) - 58_000)
      await app.setClock(aheadMs)
      const { rows: ends } = await app.owner.query<{ until: Date }>(
        'SELECT valid_until AS until FROM permits WHERE id = $1',
        [permit.id],
      )
      const untilMs = (ends[0]?.until.getTime() ?? Number.NaN) - aheadMs
      for (const page of pages) await visit(page, `/permits/${permit.id}`)
      // A screen may be late while it is busy; one whose clock is off is never right.
      const worstS = async () => {
        const shown = await Promise.all(pages.map(shownOn))
        const off = shown.map(({ leftS, realMs }) =>
          Math.abs(leftS - Math.ceil((untilMs - realMs) / 1000)),
        )
        return Math.max(...off)
      }
      await expect.poll(worstS, { timeout: 30_000, intervals: [250] }).toBeLessThanOrEqual(1)
      // Read at one instant, the ends that the three screens speak of lie within a second.
      const apartMs = async () => {
        const ends = (await Promise.all(pages.map(shownOn))).map(
          ({ leftS, realMs }) => realMs + leftS * 1000,
        )
        return Math.max(...ends) - Math.min(...ends)
      }
      await expect.poll(apartMs, { timeout: 30_000, intervals: [250] }).toBeLessThanOrEqual(1000)
    })
  } finally {
    await app.setClock(0)
  }

  const again = await buildOpenPermit(app.owner, {
    worksite: await buildWorksite(app.owner, worksite.site),
    area: worksite.site.otherArea,
  })
  await test.step('what is pressed on one phone stands on the others', async () => {
    for (const page of pages) {
      await visit(page, `/permits/${again.permit.id}`)
      await expect(page.getByText('No cuts logged yet')).toBeVisible()
    }
    await phone.getByRole('button', { name: /^Stop work/ }).click()
    await expect(phone.getByRole('heading', { name: /^Held .* Torch out now\.$/ })).toBeVisible()
    expect(await stateOf(app, again.permit.id)).toBe('held')
    for (const page of [other, desk])
      await expect(page.getByText(/^Held .*: stop was pressed$/)).toBeVisible({
        timeout: BY_STREAM_MS,
      })
  })
})

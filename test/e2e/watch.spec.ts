import type { Page } from '@playwright/test'
import { DEMO_SIGN_INS } from '../../seed/demo/sign-ins'
import { expect, test } from './fixtures'

const MEI = 'mei.tran@ferrowdunn.example'
const RAY = 'ray.oduya@ferrowdunn.example'
const LUIS = 'luis.arce@ferrowdunn.example'
const EDDA = 'edda.varley@ferrowdunn.example'
const PHONE = { width: 360, height: 780 }
/** High enough that no row lies under the bar at the bottom, where axe measures what is left of it. */
const TALL = { width: 360, height: 2400 }
const SHOTS = process.env.KERFWATCH_SHOTS

/** Pictures beside the asserting, where somebody asked for them. */
async function shot(page: Page, name: string) {
  if (SHOTS) await page.screenshot({ path: `${SHOTS}/${name}.png` })
}

const pinOf = (email: string) => {
  const pin = DEMO_SIGN_INS.find((person) => person.email === email)?.pin
  if (!pin) throw new Error(`${email} has no demo PIN`)
  return pin
}

test('the fire watch is walked, closed by two PINs, and stands in the record', async ({
  page,
  app,
  signInAs,
  openAs,
  expectAccessible,
}) => {
  test.slow() // a whole watch, page by page
  await page.setViewportSize(PHONE)
  await signInAs(MEI)
  await page.goto('/')
  await expect(page).toHaveURL(/\/today$/)
  await shot(page, 'today-phone')
  await page.setViewportSize(TALL)
  await expectAccessible()
  await page.getByRole('link', { name: 'Fire watch, Boiler house, deck 2' }).click()
  await expect(page.getByRole('heading', { name: 'Fire watch' }).first()).toBeVisible()
  await expect(page.getByRole('listitem').filter({ hasText: 'Round 3' })).toContainText('late')
  await expectAccessible()
  await page.setViewportSize(PHONE)
  await shot(page, 'watch-phone')
  const watchUrl = page.url()
  const permitUrl = watchUrl.replace(/\/watch$/, '')

  await test.step('closing early is refused with every reason', async () => {
    await page.goto(`${permitUrl}/close`)
    const closing = page.getByRole('listitem').filter({ hasText: 'PAI closes' })
    await closing.getByLabel('PAI', { exact: true }).selectOption({ label: 'Ray Oduya' })
    await closing.getByLabel('PIN').fill(pinOf(RAY))
    await closing.getByRole('button', { name: 'Close the permit' }).click()
    await expect(
      page.getByRole('heading', { name: /Can’t close yet\. \d reasons\./ }),
    ).toBeVisible()
    await expect(closing.getByRole('heading', { name: /^Watch has \d+ min to go\./ })).toBeVisible()
    await shot(page, 'close-refused-phone')
    await page.setViewportSize(TALL)
    await expectAccessible()
    await page.setViewportSize(PHONE)
  })

  await test.step('rounds visit every post', async () => {
    for (const minute of [4, 14, 24, 34]) {
      await app.setClock(minute * 60_000)
      await page.goto(`${watchUrl}/round`)
      for (const strip of await page.getByRole('group').all())
        await strip.getByRole('radio', { name: 'Clear' }).check()
      if (minute === 4) {
        await expectAccessible()
        await shot(page, 'round-phone')
      }
      await page.getByRole('button', { name: /^Send/ }).click()
      await page.waitForURL(/\/watch$/)
    }
    await app.setClock(45 * 60_000)
  })

  await test.step('the final look and the two signatures close it', async () => {
    await page.goto(`${permitUrl}/close`)
    await page.getByLabel('What did you find?').first().fill('Nothing warm anywhere')
    await page.getByRole('button', { name: 'Record the final look' }).click()
    await expect(page.getByRole('listitem').filter({ hasText: 'Final look' })).toContainText('Done')
    const signOff = page.getByRole('listitem').filter({ hasText: 'Watch signs off' })
    await signOff.getByLabel('PIN').fill(pinOf(MEI))
    await signOff.getByRole('button', { name: 'Sign off the watch' }).click()
    await expect(signOff).toContainText('Mei Tran,')
    const closing = page.getByRole('listitem').filter({ hasText: 'PAI closes' })
    await closing.getByLabel('PAI', { exact: true }).selectOption({ label: 'Ray Oduya' })
    await closing.getByLabel('PIN').fill(pinOf(RAY))
    await closing.getByRole('button', { name: 'Close the permit' }).click()
    await page.waitForURL(/\/record$/)
  })

  await test.step('the auditor reads it', async () => {
    const desk = await (await openAs(EDDA)).newPage()
    await desk.setViewportSize({ width: 1440, height: 900 })
    await desk.goto(`${permitUrl}/record`)
    await expect(desk.getByRole('cell', { name: 'Closed' })).toBeVisible()
    await expect(desk.getByRole('cell', { name: 'Refused' })).toBeVisible()
    await shot(desk, 'record-desk')
    await desk.goto('/records')
    await expect(
      desk.getByRole('row').filter({ hasText: 'Boiler house, deck 2' }).first(),
    ).toBeVisible()
    await shot(desk, 'records-desk')
  })
  await app.setClock(0)
})

test('anybody stops the work by the posted code, in two steps and without signing in', async ({
  page,
  app,
  browser,
  signInAs,
  expectAccessible,
}) => {
  await signInAs(LUIS)
  await page.setViewportSize(PHONE)
  const { rows } = await app.owner.query<{ id: string; stop_code: string }>(
    "SELECT p.id, p.stop_code FROM permits p JOIN areas a ON a.id = p.area_id WHERE p.state = 'open' AND a.name = 'Stack platform'",
  )
  const [permit] = rows
  if (!permit) throw new Error('the demo has no open permit on the stack platform')
  await page.goto(`/permits/${permit.id}/posted`)
  await expect(page.getByRole('heading', { name: /^Hot work permit/ })).toBeVisible()
  await expectAccessible()
  await page.setViewportSize({ width: 1000, height: 1300 })
  await shot(page, 'posted')

  const passer = await (await browser.newContext({ baseURL: app.url, viewport: PHONE })).newPage()
  await passer.goto(`/s/${permit.stop_code}`)
  await expect(passer.getByText('Pull station at stair B, then 911.')).toBeVisible()
  await shot(passer, 'posted-code-phone')
  await passer.getByRole('button', { name: 'Stop work' }).click()
  await expect(passer.getByRole('heading', { name: /^Held .* Torch out now\.$/ })).toBeVisible()
  await shot(passer, 'stop-sheet-phone')
  await passer.waitForTimeout(400) // the slab counts only after 300 ms, so that one finger can't press both
  await passer.getByRole('button', { name: 'Stop for good' }).click()
  await expect(passer.getByText(/^Stopped for good/)).toBeVisible()

  await passer.goto('/s/zzzzzzzzzzzz')
  await expect(passer.getByText('No permit has this code.')).toBeVisible()
  const forged = await passer.request.post(`/api/s/${permit.stop_code}/stop`, {
    data: { step: 'hold' },
    headers: { origin: 'https://elsewhere.example' },
  })
  expect(forged.status()).toBe(403)
})

test('what was cut outside a permit is kept and told', async ({
  page,
  signInAs,
  openAs,
  expectAccessible,
}) => {
  await page.setViewportSize(PHONE)
  await signInAs(LUIS)
  await page.goto('/outside')
  await expectAccessible()
  await shot(page, 'outside-phone')
  await page.getByLabel('Where', { exact: true }).selectOption({ label: 'Pump floor' })
  await page.getByLabel('Who cut').selectOption({ label: 'Luis Arce' })
  await page.getByLabel('Torch lit').fill('00:01')
  await page.getByLabel('Torch out').fill('00:02')
  await page.getByLabel('What was cut').fill('One hanger bolt')
  await page.getByLabel('Why it was outside a permit').fill('Found late')
  await page.getByRole('button', { name: 'Record it' }).click()
  await page.waitForURL(/\/today/)
  const pai = await (await openAs(RAY)).newPage()
  await pai.goto('/today')
  const notice = pai.getByText('Cut outside a permit, Pump floor: One hanger bolt')
  await expect(notice).toBeVisible()
  await shot(pai, 'today-desk')
  await pai
    .getByRole('listitem')
    .filter({ hasText: 'One hanger bolt' })
    .getByRole('button', { name: 'Seen' })
    .click()
  await expect(notice).toBeHidden()
})

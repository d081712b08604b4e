import { buildOpenPermit } from '../../seed/builders/permits'
import { expect, test } from './fixtures'
import { arrive, settled, visit } from './visit'

const PHONE = { width: 360, height: 780 }
/** The second slab counts only after 300 ms, so that one finger can't press both. */
const DEAF_MS = 400

test.use({ viewport: PHONE })

test('a passer-by stops the work by the posted code in two steps, without signing in', async ({
  app,
  page,
  context,
  expectAccessible,
}) => {
  const { permit } = await buildOpenPermit(app.owner)
  const stateOf = async () => {
    const { rows } = await app.owner.query<{ state: string; stopped_at: Date | null }>(
      'SELECT state, stopped_at FROM permits WHERE id = $1',
      [permit.id],
    )
    return rows[0]
  }
  await visit(page, `/s/${permit.stopCode}`)
  await expect(page.getByText('Pull station at the door, then 911.')).toBeVisible()
  await expectAccessible()

  await test.step('without a signal nothing looks done', async () => {
    await context.setOffline(true)
    await expect(page.getByText(/^No signal\. Pressing will not be sent/)).toBeVisible()
    await page.getByRole('button', { name: /^Stop work/ }).click()
    await expect(page.getByText('Not sent. Tell them by voice.')).toBeVisible()
    expect(await stateOf()).toMatchObject({ state: 'open' })
    await context.setOffline(false)
  })

  await test.step('one press holds it', async () => {
    await page.getByRole('button', { name: /^Stop work/ }).click()
    await expect(page.getByRole('heading', { name: /^Held .* Torch out now\.$/ })).toBeVisible()
    expect(await stateOf()).toMatchObject({ state: 'held', stopped_at: null })
    await expectAccessible()
  })

  await test.step('the second ends it for good', async () => {
    await page.waitForTimeout(DEAF_MS)
    await page.getByRole('button', { name: /^Stop for good/ }).click()
    await expect(page.getByText(/^Stopped for good/)).toBeVisible()
    expect(await stateOf()).toMatchObject({ state: 'watch', stopped_at: expect.any(Date) })
  })
})

test('work is stopped from the keyboard alone', async ({ app, page, signInAs }) => {
  const { permit, team } = await buildOpenPermit(app.owner)
  await signInAs(team.fireWatch.email)
  await visit(page, `/permits/${permit.id}`)
  const slab = page.getByRole('button', { name: /^Stop work/ })
  await expect(slab).toBeVisible()
  for (let presses = 0; presses < 60; presses += 1) {
    await page.keyboard.press('Tab')
    if (await slab.evaluate((button) => button === document.activeElement)) break
  }
  await expect(slab).toBeFocused()
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: /^Held .* Torch out now\.$/ })).toBeVisible()
  await page.keyboard.press('Escape')
  await expect(
    page
      .getByText(/^Held /)
      .filter({ visible: true })
      .first(),
  ).toBeVisible()
})

test('a code that nobody posted, and a press from another page, stop nothing', async ({
  app,
  page,
}) => {
  const { permit } = await buildOpenPermit(app.owner)
  await visit(page, '/s/zzzzzzzzzzzz')
  await expect(page.getByText('No permit has this code.')).toBeVisible()
  const forged = await page.request.post(`/api/s/${permit.stopCode}/stop`, {
    data: { step: 'hold' },
    headers: { origin: 'https://elsewhere.example' },
  })
  expect(forged.status()).toBe(403)
  const { rows } = await app.owner.query('SELECT state FROM permits WHERE id = $1', [permit.id])
  expect(rows).toEqual([{ state: 'open' }])
})

test('what was typed stays through a refusal, a lost signal and a reload', async ({
  app,
  page,
  context,
  signInAs,
}) => {
  const { permit, team } = await buildOpenPermit(app.owner)
  await signInAs(team.operator.email)
  await visit(page, `/permits/${permit.id}/hold`)
  const why = page.getByLabel('Why')
  await why.fill('Crane lift overhead')

  await page.getByRole('button', { name: 'Hold', exact: true }).click()
  await expect(page.getByLabel('Torch is out')).toHaveAttribute('aria-invalid', 'true')
  await expect(why).toHaveValue('Crane lift overhead')

  await page.getByLabel('Torch is out').check()
  await page.getByLabel('Cylinder valves are shut').check()
  await context.setOffline(true)
  await page.getByRole('button', { name: 'Hold', exact: true }).click()
  await expect(page.getByText('Not sent. Try again.')).toBeVisible()
  await context.setOffline(false)

  await page.reload()
  await settled(page)
  await expect(why).toHaveValue('Crane lift overhead')
  await expect(page.getByLabel('Torch is out')).toBeChecked()
  await page.getByRole('button', { name: 'Hold', exact: true }).click()
  await arrive(page, new RegExp(`/permits/${permit.id}$`))
  await expect(
    page.getByText('Crane lift overhead').filter({ visible: true }).first(),
  ).toBeVisible()
})

import type { Page } from '@playwright/test'
import { expect, test } from './fixtures'
import { visit } from './visit'

const JO = 'jo.pruitt@ferrowdunn.example'
const MEI = 'mei.tran@ferrowdunn.example'

const lines = (page: Page) => page.getByRole('list', { name: 'What to do' })
const orders = (page: Page) => lines(page).getByRole('button', { name: /^Confirm: / })
/** The solver has looked: until then the plan that was made at once stands there. */
const solved = (page: Page) =>
  expect(
    page.getByText(/No plan can be more than|The best found in the time there was/),
  ).toBeVisible({ timeout: 90_000 })

test('Monday morning: the manager sees what runs out, changes a line, confirms an order, takes its sheet and mails it', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  test.setTimeout(300_000)
  await signInAs(JO)
  await visit(page, '/plan')
  await expect(page.getByRole('heading', { name: 'Supply plan', level: 1 }).last()).toBeVisible()
  await expect(page.getByRole('navigation', { name: 'Runs out first' })).toBeVisible()
  await solved(page)
  await expectAccessible()

  await lines(page)
    .getByRole('link', { name: /^Leave out: Order/ })
    .first()
    .click()
  await expect(page.getByText(/^Your changes: /)).toBeVisible()
  await page.getByRole('link', { name: 'As proposed' }).click()
  await expect(page.getByText(/^Your changes: /)).toHaveCount(0)
  await lines(page)
    .getByRole('link', { name: /^One more than / })
    .last()
    .click()
  await expect(page.getByText(/^Your changes: /)).toBeVisible()
  await page.getByRole('link', { name: 'As proposed' }).click()

  await solved(page)
  const first = orders(page).first()
  const name = (await first.textContent()) ?? ''
  await first.click()
  // What is confirmed is fixed; the plan is made around it and asks for it no more.
  await expect(lines(page).getByRole('button', { name, exact: true })).toHaveCount(0, {
    timeout: 30_000,
  })
  const supplier = name.replace('Confirm: ', '').split(',')[0] ?? ''
  const link = page.getByRole('link', { name: `Order sheet for ${supplier} as PDF` })
  const pdf = await page.request.get((await link.getAttribute('href')) ?? '')
  expect(pdf.headers()['content-type']).toBe('application/pdf')
  expect((await pdf.body()).subarray(0, 5).toString()).toBe('%PDF-')
  const csvLink = page.getByRole('link', { name: `Order sheet for ${supplier} as CSV` })
  const csv = await page.request.get((await csvLink.getAttribute('href')) ?? '')
  expect(await csv.text()).toMatch(/^order,due,site,.*\r\n"/)

  await page.getByRole('button', { name: `Mail ${supplier} its sheet` }).click()
  await expect(page.getByText(/^Mailed to /)).toBeVisible({ timeout: 30_000 })
  expect(app.mails.at(-1)).toContain('Subject: Gas orders, Ferrow Dunn Cutting')
  expect(app.mails.at(-1)).toMatch(/filename="?orders-.*\.pdf/)

  const calendar = page.getByRole('link', { name: 'Calendar of deliveries and due tests' })
  const feed = await page.request.get((await calendar.getAttribute('href')) ?? '')
  expect(await feed.text()).toContain(`${supplier} delivers`)
})

test('what if: a supplier who is late changes the next plan, a lost truck makes no trips', async ({
  page,
  signInAs,
}) => {
  test.setTimeout(300_000)
  await signInAs(JO)
  await visit(page, '/plan')
  await solved(page)
  const dayOfFirst = async () => {
    const confirm = page.getByRole('button', { name: /^Confirm: / })
    const row = lines(page).getByRole('listitem').filter({ has: confirm }).first()
    return row.locator('p').first().textContent()
  }
  const intime = await dayOfFirst()
  await page.getByLabel('Suppliers late by, days').fill('3')
  await page.getByLabel('Own truck').selectOption('Is lost')
  await page.getByRole('button', { name: 'See what changes' }).click()
  await page.waitForURL(/late=3/)
  await solved(page)
  expect(await dayOfFirst()).not.toBe(intime)
  await expect(lines(page).getByRole('link', { name: /^Leave out: Move/ })).toHaveCount(0)
})

test('a return is confirmed, fixed, and taken back', async ({ page, signInAs }) => {
  test.setTimeout(300_000)
  await signInAs(JO)
  await visit(page, '/plan')
  await solved(page)
  const confirm = lines(page).getByRole('button', { name: /^Confirm the return: / })
  const name = (await confirm.first().textContent()) ?? ''
  await confirm.first().click()
  const fixed = page.getByRole('list', { name: 'Confirmed, and fixed in every plan' })
  const site = name.replace('Confirm the return: ', '')
  await expect(fixed.getByRole('listitem')).toContainText([`${site}, empties`], { timeout: 30_000 })
  await fixed.getByRole('button', { name: /^Take back: / }).click()
  await expect(fixed).toHaveCount(0, { timeout: 30_000 })
})

test('a supplier’s late delivery is taken down and changes the next plan', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  test.setTimeout(300_000)
  await signInAs(JO)
  const [due] = (
    await app.owner.query<{ number: string; site_id: string; gas_id: string; size_id: string }>(
      `SELECT o.number, o.site_id, z.gas_id, l.size_id
       FROM orders o JOIN order_lines l ON l.order_id = o.id JOIN cylinder_sizes z ON z.id = l.size_id JOIN sites s ON s.id = o.site_id
       WHERE o.state = 'confirmed' AND o.due_on > (kerf_now() AT TIME ZONE s.zone)::date ORDER BY o.confirmed_at DESC LIMIT 1`,
    )
  ).rows
  if (!due) throw new Error('the plan confirmed no order')
  await visit(page, `/plan?site=${due.site_id}&gas=${due.gas_id}&size=${due.size_id}`)
  const comes = page.getByRole('listitem').filter({ hasText: /: Ordered \d+\.$/ })
  const onTime = await comes.first().textContent()
  const open = page.getByRole('list', { name: 'Ordered, not come' })
  const order = open.getByRole('listitem').filter({ hasText: due.number })
  await order.getByText(`Comes later: ${due.number}`).click()
  await order.getByLabel('Days later').fill('2')
  await order.getByLabel('What the supplier says').fill('Their truck broke down')
  await expectAccessible()
  await order.getByRole('button', { name: 'Take it down' }).click()
  await expect(order.getByText(/^Was due .*, 2 days late: Their truck broke down/)).toBeVisible({
    timeout: 30_000,
  })
  // What is fixed has moved, so that the plan is made anew around it.
  await expect(comes.first()).not.toHaveText(onTime ?? '')
  await solved(page)
})

test('who may not order gets no plan', async ({ page, signInAs }) => {
  await signInAs(MEI)
  await visit(page, '/plan')
  // A plan that somebody else had solved may still hold a core.
  await expect(page.locator('body')).toContainText('Nothing here.', { timeout: 30_000 })
})

import { buildCylinder } from '../../seed/builders/gear'
import { buildOrder } from '../../seed/builders/orders'
import { buildPerson } from '../../seed/builders/people'
import { buildSite } from '../../seed/builders/sites'
import { expect, test } from './fixtures'

test('a delivery with differences is received, and each is settled', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const site = await buildSite(app.owner)
  const manager = await buildPerson(app.owner, {
    grants: [{ siteId: site.id, role: 'shop_manager' }],
  })
  await buildOrder(app.owner, { siteId: site.id, managerId: manager.id })
  await signInAs(manager.email)
  await page.goto(`/deliveries/new?site=${site.id}`)
  await page.getByLabel('Against').selectOption({ index: 1 })
  await page.getByText('From the supplier’s list').click()
  const tag = site.id.slice(-6).toUpperCase()
  await page
    .getByLabel('Serials, one a line, or a table with its headings')
    .fill(`Lot;Serial;Gas;Size\nL7;DV-${tag}A;Oxygen;244 ft³\nL7;DV-${tag}B;Oxygen;244 ft³`)
  await page.getByRole('button', { name: 'Fill rows from it' }).click()
  await page.getByLabel('It is', { exact: true }).nth(1).selectOption('held_dent')
  await page.getByRole('button', { name: 'Receive these' }).click()
  await page.getByRole('link', { name: 'See the delivery' }).click()
  await expect(page.getByText(`DV-${tag}B came damaged and is held back`)).toBeVisible()
  await expectAccessible()
  const settle = page.getByRole('button', { name: 'Settle it' }).first()
  await page.getByLabel('It ended so').first().selectOption('credited')
  await settle.click()
  await expect(page.getByText('Credited.')).toBeVisible()
  await page.getByLabel('What was found').fill('Oily smell')
  await page.getByRole('button', { name: 'Hold the whole batch back' }).click()
  await expect(page.getByText('Batch L7 is impure: 2')).toBeVisible()

  // Its invoice: a dear fill, one that was credited, one that never came, and what nobody agreed.
  await page
    .getByLabel('What, how many and the amount, a row each')
    .fill(`DV-${tag}A;990.00\nDV-${tag}B;32.00\nDV-${tag}Z9;32.00\nHazard charge;5.00`)
  await page.getByRole('button', { name: 'Check it against this delivery' }).click()
  const invoice = page.getByRole('region', { name: 'The invoice, row by row' })
  const rowOf = (what: string) => invoice.getByRole('row').filter({ hasText: what })
  await expect(rowOf(`DV-${tag}A`)).toContainText('not that of the agreed price')
  await expect(rowOf(`DV-${tag}B`)).toContainText('Left on the truck, sent back or credited.')
  await expect(rowOf(`DV-${tag}Z9`)).toContainText('Did not come with this delivery.')
  await expect(rowOf('Hazard charge')).toContainText('Nothing on record names it')
  await expectAccessible()
})

test('a messy file of 2,000 rows names every bad row, and takes in the others', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  test.setTimeout(180_000)
  const site = await buildSite(app.owner)
  const yard = await buildPerson(app.owner, { grants: [{ siteId: site.id, role: 'yard_hand' }] })
  await signInAs(yard.email)
  const tag = site.id.slice(-6).toUpperCase()
  const lines = Array.from({ length: 2_000 }, (_, i) => {
    const serial = i % 500 === 9 ? `IM-${tag}-0` : `IM-${tag}-${i}`
    const size = i % 500 === 17 ? '999' : i % 3 === 0 ? '6.9 m3' : '244 cf'
    const tested = i % 500 === 25 ? '31.02.2024' : i % 2 === 0 ? '15.03.2024' : '2024-03-15'
    const tare = i % 500 === 33 ? 'heavy' : i % 4 === 0 ? '55 kg' : '121'
    return `${serial};O2;${size};${tested};03/2029;${tare};M\u00fcller`
  })
  const head = 'Serial;Gas;Size;Last hydro;Hydro due;Tare (lb);Remark'
  const buffer = Buffer.concat([
    Buffer.from(`${[head, ...lines.slice(0, 1_000)].join('\r\n')}\r\n`, 'utf8'),
    Buffer.from(lines.slice(1_000).join('\r\n'), 'latin1'),
  ])
  await page.goto(`/cylinders/import?site=${site.id}`)
  await page.getByLabel('CSV or Excel file').setInputFiles({
    name: 'fleet.csv',
    mimeType: 'text/csv',
    buffer,
  })
  await page.getByRole('button', { name: 'See what is in it' }).click()
  await expect(page.getByText('2,000 rows: 1,984 good, 16 with something wrong.')).toBeVisible({
    timeout: 60_000,
  })
  await expect(
    page.getByRole('row', { name: /^27 Tested 31.02.2024 That is no date\.$/ }),
  ).toBeVisible()
  await expectAccessible()
  await page.getByRole('button', { name: 'Take in 1,984' }).click()
  await expect(
    page.getByText('1,984 taken in, 0 were in the record by then, 0 to go.'),
  ).toBeVisible({
    timeout: 120_000,
  })
})

test('a stock count finds, misses and puts right after a second look', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const site = await buildSite(app.owner)
  const yard = await buildPerson(app.owner, { grants: [{ siteId: site.id, role: 'yard_hand' }] })
  const by = { siteId: site.id, keeperId: yard.id }
  const [seen, missing] = [await buildCylinder(app.owner, by), await buildCylinder(app.owner, by)]
  await signInAs(yard.email)
  await page.goto(`/cylinders/count?site=${site.id}`)
  await page.getByRole('button', { name: 'Begin a count' }).click()
  await page.getByLabel('Serial, by hand').fill(seen.serial)
  await page.getByRole('button', { name: 'Seen', exact: true }).click()
  await expect(page.getByText('1 where the record has it')).toBeVisible()
  await expectAccessible()
  await page.getByRole('checkbox', { name: missing.serial }).check()
  await page.getByRole('checkbox', { name: /I looked a second time/ }).check()
  await page.getByRole('button', { name: 'End the count' }).click()
  await expect(
    page.getByText('Over: 1 where they should be, 0 put right, 1 lost, 0 left as they were.'),
  ).toBeVisible()
})

test('an invoice with three wrong rows says what to dispute', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const site = await buildSite(app.owner)
  const manager = await buildPerson(app.owner, {
    grants: [{ siteId: site.id, role: 'shop_manager' }],
  })
  const here = await buildCylinder(app.owner, { siteId: site.id, keeperId: manager.id })
  await signInAs(manager.email)
  await page.goto(`/rent?site=${site.id}`)
  await page
    .getByLabel('Serial, days and amount, a row each')
    .fill(`Serial;Days;Amount\nXX-1;30;5.00\nXX-1;30;5.00\n${here.serial};30;7.50`)
  await page.getByRole('button', { name: 'Check it against the record' }).click()
  const rows = page.getByRole('region', { name: 'The statement, row by row' })
  await expect(rows.getByText('Never one of ours.').first()).toBeVisible()
  await expect(rows.getByText('Asked for twice.')).toBeVisible()
  await expect(rows.getByText('Stood nowhere here in this month.')).toBeVisible()
  await expectAccessible()
})

import { buildPreparedPermit } from '../../seed/builders/permits'
import { pngOf } from '../setup/picture-bytes'
import { expect, test } from './fixtures'
import { visit } from './visit'

test.use({ viewport: { width: 360, height: 780 } })

test('an area is drawn by keyboard, by list and by touch; openings at 34, 35 and 36 ft say what they are', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const { permit, team } = await buildPreparedPermit(app.owner)
  await signInAs(team.foreman.email)
  await visit(page, `/permits/${permit.id}/drawing`)
  const sheet = page.getByRole('application')
  const rows = page
    .getByRole('list')
    .filter({ has: page.getByRole('button', { name: /^Change / }) })

  await test.step('the work, by keyboard: up the sheet and put down', async () => {
    await sheet.focus()
    await page.keyboard.press('ArrowUp')
    await page.keyboard.press('Enter')
    await page.keyboard.press('Shift+ArrowRight')
    await expect(page.getByText('5 ft from the work')).toBeVisible()
  })

  await test.step('three doorways, by list', async () => {
    await page.getByText('Put it down by list').click()
    for (const [feet, hour] of [
      ['34', '3'],
      ['35', '6'],
      ['36', '9'],
    ] as const) {
      await page.getByLabel('What kind').selectOption('opening')
      await page.getByLabel('What it is').last().fill(`Doorway ${feet}`)
      await page.getByLabel('How far from the work').fill(feet)
      await page.getByLabel('Toward').selectOption(hour)
      await page.getByRole('button', { name: 'Put it down', exact: true }).click()
      await expect(page.getByText(`Doorway ${feet} is on the sheet.`)).toBeVisible()
      await page.getByRole('radio', { name: 'Something burns' }).check()
      await page.getByRole('button', { name: 'Done' }).click()
    }
    const row = (feet: string) => rows.getByRole('listitem').filter({ hasText: `Doorway ${feet}` })
    await expect(row('34')).toContainText('Within 35 ft: 29 CFR 1910.252(a)(2)(iii)(A)(3)')
    await expect(row('35')).toContainText('Within 35 ft: 29 CFR 1910.252(a)(2)(iii)(A)(3)')
    await expect(row('36')).toContainText('A person judges: IFC 3504.1.2')
    await expect(row('36')).not.toContainText('Within')
  })

  await test.step('pallets, by touch', async () => {
    await page.getByRole('radio', { name: 'Burns', exact: true }).check()
    const box = await sheet.boundingBox()
    if (!box) throw new Error('no sheet')
    await sheet.click({ position: { x: box.width * 0.6, y: box.height * 0.5 } })
    await expect(page.getByRole('heading', { name: /^Burns, about 10/ })).toBeVisible()
    await page.getByLabel('What it is').first().fill('Pallets')
    await page.getByRole('radio', { name: 'Covered', exact: true }).check()
    await expectAccessible()
  })

  await test.step('a plan under it', async () => {
    await page.getByText(/^Sheet This level: scale/).click()
    await page
      .getByLabel('Lay a plan under it')
      .setInputFiles({ name: 'plan.png', mimeType: 'image/png', buffer: pngOf(400, 300) })
    await expect(page.getByText('The plan is under the sheet.')).toBeVisible()
    await page.reload()
    await expect(page.getByText(/^5\. Pallets|^4\. Pallets/)).toBeVisible() // not kept yet, and not lost
  })

  await page.getByRole('button', { name: 'Keep the drawing' }).click()
  await expect(page.getByText(/^Kept by /).filter({ visible: true })).toBeVisible()
  await visit(page, `/permits/${permit.id}/clearance?item=none`)
  await expect(page.getByText('4 things')).toBeVisible()
  await page.getByRole('link', { name: 'Drawing of the area' }).click()
  await expect(page.getByText(/^4\. Pallets/)).toBeVisible()
  const { rows: kept } = await app.owner.query(
    "SELECT drawing -> 'sheets' -> 0 ->> 'pictureId' AS plan, jsonb_array_length(drawing -> 'marks') AS marks FROM area_drawings WHERE permit_id = $1",
    [permit.id],
  )
  expect(kept).toEqual([{ plan: expect.stringMatching(/^[0-9a-f-]{36}$/), marks: 4 }])
})

test('whoever only looks sees the drawing and can change nothing', async ({
  app,
  page,
  signInAs,
}) => {
  const { permit, team } = await buildPreparedPermit(app.owner)
  await signInAs(team.fireWatch.email)
  await visit(page, `/permits/${permit.id}/drawing`)
  await expect(page.getByText('It can be changed while the area')).toBeVisible()
  await expect(page.getByRole('button', { name: 'Keep the drawing' })).toHaveCount(0)
})

import { writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import QRCode from 'qrcode'
import sharp from 'sharp'
import { buildCylinder, quarantineCylinder } from '../../seed/builders/gear'
import { buildPerson } from '../../seed/builders/people'
import { buildSite } from '../../seed/builders/sites'
import { expect, test } from './fixtures'

const FRAMES = 30

/** A camera that sees one label: the same picture over and over, as Chromium's false camera plays it. */
async function cameraOf(text: string): Promise<string> {
  const code = await QRCode.toBuffer(text, { width: 360, margin: 4 })
  const frame = await sharp({
    create: { width: 640, height: 480, channels: 3, background: '#888' },
  })
    .composite([{ input: code, left: 140, top: 60 }])
    .jpeg({ quality: 95 })
    .toBuffer()
  const file = path.join(tmpdir(), `camera-${process.pid}-${text}.mjpeg`)
  writeFileSync(file, Buffer.concat(Array.from({ length: FRAMES }, () => frame)))
  return file
}

test('a phone scans many in a row, counts them, and shows large what must not be used', async ({
  app,
  playwright,
  launchOptions,
}) => {
  test.setTimeout(120_000)
  const site = await buildSite(app.owner)
  const yard = await buildPerson(app.owner, { grants: [{ siteId: site.id, role: 'yard_hand' }] })
  const by = { siteId: site.id, keeperId: yard.id }
  const held = await buildCylinder(app.owner, by)
  await quarantineCylinder(app.owner, held, by)
  const good = await buildCylinder(app.owner, by)
  const fuel = await buildCylinder(app.owner, { ...by, sizeId: 'acetylene-225' })
  const overdue = await buildCylinder(app.owner, {
    ...by,
    dueMonth: '2020-01-01',
    filledOn: '2019-12-01',
  })
  const far = await buildSite(app.owner)
  const keeper = await buildPerson(app.owner, { grants: [{ siteId: far.id, role: 'yard_hand' }] })
  const away = await buildCylinder(app.owner, { siteId: far.id, keeperId: keeper.id })
  const browser = await playwright.chromium.launch({
    ...launchOptions,
    args: [
      ...(launchOptions.args ?? []),
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-video-capture=${await cameraOf(held.serial)}`,
    ],
  })
  const context = await browser.newContext({
    baseURL: app.url,
    viewport: { width: 360, height: 780 },
    permissions: ['camera'],
  })
  await context.addCookies([await app.sessionCookie(yard.email)])
  const page = await context.newPage()
  await page.goto(`/cylinders/scan?site=${site.id}&gas=oxygen`)
  await page.getByRole('button', { name: 'Start the camera' }).click()
  const alert = page.getByRole('alert').filter({ hasText: held.serial })
  await expect(alert).toContainText('Held back', { timeout: 60_000 })
  await expect(page.getByText('1 scanned')).toBeVisible()

  await page.getByLabel('Serial, by hand').fill(good.serial.toLowerCase())
  await page.getByRole('button', { name: 'Look it up' }).click()
  await expect(page.getByText(`${good.serial} is as it should be.`)).toBeVisible()
  await page.getByLabel('Serial, by hand').fill(`${good.serial.slice(0, -1)}`)
  await page.getByRole('button', { name: 'Look it up' }).click()
  await expect(page.getByRole('alert').filter({ hasText: 'Not in the record' })).toContainText(
    good.serial,
  )
  await expect(page.getByText('3 scanned')).toBeVisible()
  for (const [serial, said] of [
    [fuel.serial, 'Wrong gas'],
    [overdue.serial, 'Past its test month'],
    [away.serial, 'At another site by the record'],
  ] as const) {
    await page.getByLabel('Serial, by hand').fill(serial)
    await page.getByRole('button', { name: 'Look it up' }).click()
    const large = page.getByRole('alert').filter({ hasText: serial })
    await expect(large).toContainText(said)
    // As large as the phone's own titles, on the colour of what stops.
    const size = await large.getByText(said).evaluate((one) => getComputedStyle(one).fontSize)
    expect(Number.parseFloat(size)).toBeGreaterThanOrEqual(20)
    await expect(large).toBeInViewport()
  }
  await expect(page.getByText('6 scanned')).toBeVisible()
  await browser.close()
})

test('somebody without this site scans nothing of it', async ({ app, page, signInAs }) => {
  const [mine, theirs] = [await buildSite(app.owner), await buildSite(app.owner)]
  const other = await buildPerson(app.owner, { grants: [{ siteId: mine.id, role: 'yard_hand' }] })
  const there = await buildPerson(app.owner, { grants: [{ siteId: theirs.id, role: 'yard_hand' }] })
  const cylinder = await buildCylinder(app.owner, { siteId: theirs.id, keeperId: there.id })
  await signInAs(other.email)
  const away = await page.request.get(`/api/cylinders/look?site=${theirs.id}&code=X1`)
  expect(away.status()).toBe(404)
  const seen = await page.request.get(`/api/cylinders/look?site=${mine.id}&code=${cylinder.serial}`)
  expect(await seen.json()).toMatchObject({ answer: { id: null, codes: ['wrong_site'] } })
})

import { readFileSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { LaunchOptions, PlaywrightWorkerArgs } from '@playwright/test'
import QRCode from 'qrcode'
import sharp from 'sharp'
import { prepareZXingModule as prepareReader, readBarcodes } from 'zxing-wasm/reader'
import { prepareZXingModule as prepareWriter, writeBarcode } from 'zxing-wasm/writer'
import { buildCylinder, quarantineCylinder } from '../../seed/builders/gear'
import { buildPerson } from '../../seed/builders/people'
import { buildSite } from '../../seed/builders/sites'
import type { TestApp } from './app'
import { expect, test } from './fixtures'

const FRAMES = 30

const require = createRequire(import.meta.url)
const wasmOf = (which: 'reader' | 'writer') => ({
  overrides: {
    wasmBinary: readFileSync(require.resolve(`zxing-wasm/${which}/zxing_${which}.wasm`))
      .buffer as ArrayBuffer,
  },
})

/** A supplier's bar code, on white. */
async function barCodeOf(text: string): Promise<Buffer> {
  prepareWriter(wasmOf('writer'))
  const { image } = await writeBarcode(text, { format: 'Code128', scale: 2 })
  if (!image) throw new Error('no bar code was drawn')
  return sharp(Buffer.from(await image.arrayBuffer()))
    .extend({ top: 20, bottom: 20, left: 30, right: 30, background: '#fff' })
    .resize({ width: 480 })
    .png()
    .toBuffer()
}

/** A camera that sees one label: the same picture over and over, as Chromium's false camera plays it. */
async function cameraOf(text: string, code: Buffer): Promise<string> {
  const frame = await sharp({
    create: { width: 640, height: 480, channels: 3, background: '#888' },
  })
    .composite([{ input: code, gravity: 'centre' }])
    .jpeg({ quality: 95 })
    .toBuffer()
  const file = path.join(tmpdir(), `camera-${process.pid}-${text}.mjpeg`)
  writeFileSync(file, Buffer.concat(Array.from({ length: FRAMES }, () => frame)))
  return file
}

type Phone = Readonly<{
  app: TestApp
  playwright: PlaywrightWorkerArgs['playwright']
  launchOptions: LaunchOptions
  email: string
}>

/** A phone whose camera plays a file. */
async function phoneBefore(file: string, { app, playwright, launchOptions, email }: Phone) {
  const browser = await playwright.chromium.launch({
    ...launchOptions,
    args: [
      ...(launchOptions.args ?? []),
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-video-capture=${file}`,
    ],
  })
  const context = await browser.newContext({
    baseURL: app.url,
    viewport: { width: 360, height: 780 },
    permissions: ['camera'],
  })
  await context.addCookies([await app.sessionCookie(email)])
  return { browser, page: await context.newPage() }
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
  const seen = await QRCode.toBuffer(held.serial, { width: 360, margin: 4 })
  const { browser, page } = await phoneBefore(await cameraOf(held.serial, seen), {
    app,
    playwright,
    launchOptions,
    email: yard.email,
  })
  await page.addInitScript(() => {
    const heard: number[] = []
    Object.assign(globalThis, { heard })
    const start = OscillatorNode.prototype.start
    OscillatorNode.prototype.start = function (...when: [number?]) {
      heard.push(this.frequency.value)
      start.apply(this, when)
    }
  })
  const heard = () => page.evaluate(() => (globalThis as unknown as { heard: number[] }).heard)
  await page.goto(`/cylinders/scan?site=${site.id}&gas=oxygen`)
  await page.getByRole('button', { name: 'Start the camera' }).click()
  const alert = page.getByRole('alert').filter({ hasText: held.serial })
  await expect(alert).toContainText('Held back', { timeout: 60_000 })
  await expect(page.getByText('1 scanned')).toBeVisible()
  const [low, again] = await heard()
  expect(low).toBe(again) // low and twice: look at the screen

  await page.getByLabel('Serial, by hand').fill(good.serial.toLowerCase())
  await page.getByRole('button', { name: 'Look it up' }).click()
  await expect(page.getByText(`${good.serial} is as it should be.`)).toBeVisible()
  expect((await heard()).at(-1)).toBeGreaterThan(2 * (low ?? 0)) // high: taken
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

test('a bar code of the supplier is read as a label is', async ({
  app,
  playwright,
  launchOptions,
}) => {
  test.setTimeout(120_000)
  const site = await buildSite(app.owner)
  const yard = await buildPerson(app.owner, { grants: [{ siteId: site.id, role: 'yard_hand' }] })
  const { serial } = await buildCylinder(app.owner, { siteId: site.id, keeperId: yard.id })
  const { browser, page } = await phoneBefore(await cameraOf(serial, await barCodeOf(serial)), {
    app,
    playwright,
    launchOptions,
    email: yard.email,
  })
  await page.goto(`/cylinders/scan?site=${site.id}`)
  await page.getByRole('button', { name: 'Start the camera' }).click()
  await expect(page.getByText(`${serial} is as it should be.`)).toBeVisible({ timeout: 60_000 })
  await browser.close()
})

test('a printed label has the size of its sheet and reads back as its serial', async ({
  app,
  browser,
}) => {
  const site = await buildSite(app.owner)
  const yard = await buildPerson(app.owner, { grants: [{ siteId: site.id, role: 'yard_hand' }] })
  const { serial } = await buildCylinder(app.owner, { siteId: site.id, keeperId: yard.id })
  const context = await browser.newContext({
    baseURL: app.url,
    viewport: { width: 1440, height: 900 },
    deviceScaleFactor: 3, // about 300 dots an inch, as a printer has
  })
  await context.addCookies([await app.sessionCookie(yard.email)])
  const page = await context.newPage()
  prepareReader(wasmOf('reader'))
  // 30 on Letter: 2 5/8 by 1 inch; 21 on A4: 63.5 by 38.1 mm. A CSS inch is 96 px.
  for (const [sheet, widthIn, heightIn] of [
    ['letter-30', 2.625, 1],
    ['a4-21', 2.5, 1.5],
  ] as const) {
    await page.goto(`/cylinders/labels?site=${site.id}&sheet=${sheet}`)
    const label = page.locator('.labels-one').first()
    const box = await label.boundingBox()
    expect(box?.width).toBeCloseTo(widthIn * 96, 0)
    expect(box?.height).toBeCloseTo(heightIn * 96, 0)
    const picture = new Uint8Array(await label.screenshot())
    const codes = await readBarcodes(picture, { formats: ['QRCode'] })
    expect(codes.map((code) => code.text)).toEqual([serial])
  }
  await context.close()
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

import { randomUUID } from 'node:crypto'
import type { Page, Request } from '@playwright/test'
import { formatDay } from '../../lib/format/clock'
import { atHourOfDay } from '../../lib/format/zone'
import { buildCylinder } from '../../seed/builders/gear'
import { buildPerson } from '../../seed/builders/people'
import { buildOpenPermit, buildWorksite } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { databaseNow } from '../../seed/play'
import { morningZone } from '../setup/morning-zone'
import { expect, test } from './fixtures'
import {
  openNumbers,
  PIECES,
  planJob,
  preparePermit,
  signThree,
  takeGasTest,
  walkClearance,
} from './story-foreman'
import {
  closePermit,
  endWork,
  holdAndGoOn,
  logPieces,
  pressClose,
  sendAgain,
  swapOxygen,
  walkRound,
} from './story-watch'
import { arrive, visit } from './visit'

const PHONE = { width: 360, height: 780 }
const DESK = { width: 1440, height: 900 }
const MIN_MS = 60_000
const clockIn = (zone: string, at: Date) =>
  new Intl.DateTimeFormat('en-GB', { timeZone: zone, hour: '2-digit', minute: '2-digit' }).format(
    at,
  )

test('one job from the cut list to the record, by a foreman, a shop manager and an auditor', async ({
  app,
  page,
  signInAs,
  openAs,
  expectAccessible,
}) => {
  test.setTimeout(480_000) // a whole working day; a loaded machine takes its time
  const zone = morningZone(await databaseNow(app.owner))
  const world = await buildWorksite(app.owner, await buildSite(app.owner, { zone }))
  const { site, team } = world
  const keeperId = team.foreman.id
  const manager = await buildPerson(app.owner, {
    grants: [{ siteId: site.id, role: 'shop_manager' }],
  })
  const auditor = await buildPerson(app.owner, { grants: [{ siteId: site.id, role: 'auditor' }] })
  const spare = await buildCylinder(app.owner, { siteId: site.id, keeperId })
  let movedMs = 0
  const later = async (minutes: number) => {
    movedMs += minutes * MIN_MS
    await app.setClock(movedMs)
  }
  /** So many minutes after the torch went out; however long the steps before it took. */
  const afterTorchOut = async (minutes: number) => {
    const { rows } = await app.owner.query<{ ms: number }>(
      `SELECT extract(epoch FROM torch_out_at + $1 * interval '1 minute' - clock_timestamp())::float8 * 1000 AS ms
       FROM permits WHERE id = $2`,
      [minutes, permitId],
    )
    movedMs = Math.max(movedMs, rows[0]?.ms ?? Number.NaN)
    await app.setClock(movedMs)
  }

  await page.setViewportSize(PHONE)
  await signInAs(team.foreman.email)
  const number = `S${Date.now().toString(36).slice(-6).toUpperCase()}`

  const jobUrl = await test.step('the foreman plans cuts and opens a number', async () => {
    const url = await planJob(page, world, number)
    await openNumbers(page)
    await expectAccessible()
    return url
  })

  const managing = await (await openAs(manager.email)).newPage()
  await managing.setViewportSize(DESK)
  const before = await test.step('the manager reads how long the gas lasts', async () => {
    await visit(managing, `/orders?site=${site.id}`)
    return readOxygen(managing, site.zone)
  })

  const permitId = await test.step('prepares a permit and walks the area', async () => {
    await visit(page, jobUrl)
    const id = await preparePermit(page, world)
    await walkClearance(page, id)
    await expectAccessible()
    await takeGasTest(page, id, site.zone)
    return id
  })

  await test.step('three PINs issue it', async () => {
    await signThree(page, world, clockIn(site.zone, new Date(Date.now() + movedMs)))
    await arrive(page, new RegExp(`/permits/${permitId}$`))
    await expect(
      page.getByRole('heading', { name: new RegExp(`${number}-1`) }).first(),
    ).toBeVisible()
    await expect(page.getByRole('button', { name: /Stop work/ })).toBeVisible()
    await expectAccessible()
  })

  let swap: Request | undefined
  const swapsOf = async (id: string) =>
    (await app.owner.query('SELECT 1 FROM swaps WHERE permit_id = $1', [id])).rowCount
  await test.step('work and a swap are logged, held and taken up again', async () => {
    await later(20)
    await logPieces(page, permitId, 4)
    await expect(page.getByText(new RegExp(`4 of ${PIECES}`))).toBeVisible()
    swap = await swapOxygen(page, permitId, { psi: 160, onSerial: spare.serial })
    await expect(page.getByText(spare.serial)).toBeVisible()
    await sendAgain(swap, page.context())
    expect(await swapsOf(permitId)).toBe(1)
    await holdAndGoOn(page, permitId, world)
    await later(10)
    await logPieces(page, permitId, 4)
    await endWork(page, permitId)
    await expectAccessible()
  })

  await test.step('closing early is refused with every reason', async () => {
    await visit(page, `/permits/${permitId}/close`)
    await pressClose(page, team.pai.id)
    const refused = page.getByRole('alert').filter({ hasText: 'close yet' }).first()
    await expect(refused).toBeVisible()
    expect(await refused.getByRole('listitem').count()).toBeGreaterThanOrEqual(3)
    await expectAccessible()
  })

  await test.step('the fire watch walks its rounds until the watch runs out', async () => {
    const watching = await (await openAs(team.fireWatch.email)).newPage()
    await watching.setViewportSize(PHONE)
    // As soon as each opens: a late one would add its seconds, and with them a sixth round.
    for (const round of [1, 2, 3, 4, 5]) {
      await afterTorchOut(round * 10 - 1.9)
      await walkRound(watching, permitId, round)
    }
    await afterTorchOut(61)
    await visit(watching, `/permits/${permitId}/watch`)
    await expect(watching.getByText(/Watch done/).first()).toBeVisible()
  })

  await test.step('watch and PAI sign, and the permit is closed', async () => {
    await closePermit(page, permitId, world)
    await expect(page.getByText(/Closed/).first()).toBeVisible()
  })

  await test.step('the manager sees the gas fall and confirms an order', async () => {
    const desk = managing
    await visit(desk, '/sites')
    await expect(desk.getByRole('link', { name: site.name, exact: true }).first()).toBeVisible()
    await expectAccessible(desk)
    await visit(desk, `/orders?site=${site.id}`)
    const after = await readOxygen(desk, site.zone)
    expect(after.cylinders).toBeLessThan(before.cylinders)
    expect(after.daysUntilShort).toBeLessThan(before.daysUntilShort)
    await expectAccessible(desk)
    await desk.getByLabel('Oxygen, 244 ft³').fill('3')
    await desk.getByRole('button', { name: 'Confirm the order' }).click()
    await expect(desk.getByText(/is confirmed\. The forecast counts it\./)).toBeVisible()
    await expect(desk.getByText('3 × 244 ft³')).toBeVisible()
  })

  const other = await buildOpenPermit(app.owner, {
    worksite: await buildWorksite(app.owner, site),
    area: site.otherArea,
  })
  await test.step('the auditor sees use beside the estimate and an unaltered record, and changes nothing', async () => {
    const context = await openAs(auditor.email)
    const desk = await context.newPage()
    await desk.setViewportSize(DESK)
    await visit(desk, `/audit?site=${site.id}`)
    await desk.getByRole('link', { name: number }).first().click()
    await expect(desk.getByRole('heading', { name: 'Estimate and use' })).toBeVisible()
    await expect(desk.getByRole('row', { name: /^Oxygen/ }).first()).toBeVisible()
    await expectAccessible(desk)
    await visit(desk, `/permits/${permitId}/record`)
    await expect(desk.getByText('Record unaltered.')).toBeVisible({ timeout: 30_000 })
    await expectAccessible(desk)
    await visit(desk, jobUrl)
    await expect(desk.getByRole('link', { name: 'Add a cut' })).toHaveCount(0)
    await expect(desk.getByRole('button', { name: 'Keep this estimate' })).toHaveCount(0)
    await visit(desk, `/permits/${other.permit.id}`)
    await expect(desk.getByRole('link', { name: 'Log cuts' })).toHaveCount(0)
    const round = await context.request.post(`/api/permits/${other.permit.id}/round`, {
      headers: { origin: app.url },
      data: {
        key: randomUUID(),
        posts: other.area.posts.map((post) => ({ post: post.name, answer: 'clear' })),
      },
    })
    expect(round.status()).toBe(403)
    if (!swap) throw new Error('no swap was sent')
    expect(await sendAgain(swap, context)).toContain('"code":"FORBIDDEN"')
    expect(await swapsOf(permitId)).toBe(1)
    await desk.getByRole('button', { name: /Stop work/ }).click()
    await expect(desk.getByText(/Torch out now/)).toBeVisible()
  })
})

const DAY_MS = 86_400_000

/** What the orders page says of oxygen: cylinders it counts with, days until the site is short. */
async function readOxygen(page: Page, zone: string) {
  const row = page.getByRole('row', { name: /^Oxygen/ }).first()
  const words = await row.getByRole('cell').nth(4).textContent()
  const noonMs = atHourOfDay(Date.now(), zone, 12)
  const days = Array.from({ length: 30 }, (_, index) =>
    index === 0 ? 'today' : formatDay(noonMs + index * DAY_MS, { timeZone: zone }),
  )
  const index = days.indexOf(words ?? '')
  expect(index, `"${words}" is a day of the next thirty`).toBeGreaterThanOrEqual(0)
  return {
    cylinders: Number(await row.getByRole('cell').nth(1).textContent()),
    daysUntilShort: index + 1,
  }
}

import type { Page } from '@playwright/test'
import { buildPerson } from '../../seed/builders/people'
import { buildHeldPermit, buildOpenPermit, buildWorksite } from '../../seed/builders/permits'
import { localDay } from '../../seed/zones'
import type { TestApp } from './app'
import { expect, test } from './fixtures'
import { visit } from './visit'

const PHONE = { width: 360, height: 780 }
const MINUTE_MS = 60_000
const TICK_MS = 25_000

test.use({ viewport: PHONE })

const stateOf = async (app: TestApp, permitId: string) => {
  const { rows } = await app.owner.query<{ state: string }>(
    'SELECT state FROM permits WHERE id = $1',
    [permitId],
  )
  return rows[0]?.state
}

async function typeAir(page: Page, day: string, oxygen: string): Promise<void> {
  await page.getByLabel('1. Oxygen').fill(oxygen)
  await page.getByLabel('2. LEL').fill('0')
  await page.getByLabel('3. CO').fill('0')
  await page.getByLabel('Instrument').fill('GM-4')
  await page.getByLabel('Bump tested on').fill(day)
  await page.getByLabel('Calibrated until').fill(day)
}

test('in a confined space a falling oxygen reading is asked for its cause, then holds the permit', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const worksite = await buildWorksite(app.owner)
  const { site, team } = worksite
  const facts = { ...site.area.facts, enclosed: true, confinedSpace: true }
  await app.owner.query('UPDATE areas SET facts = $2 WHERE id = $1', [
    site.area.id,
    JSON.stringify(facts),
  ])
  const area = { ...site.area, facts }
  const { permit } = await buildOpenPermit(app.owner, { worksite, area })
  const day = localDay(site.zone, Date.now())
  await signInAs(team.foreman.email)

  await test.step('a drop within the limits asks what took it', async () => {
    await visit(page, `/permits/${permit.id}/gas-test`)
    await typeAir(page, day, '20.6')
    const cause = page.getByLabel('What took oxygen below 20.9 %?')
    await expect(cause).toBeVisible()
    await expectAccessible()
    await page.getByRole('button', { name: 'Keep the readings' }).click()
    await expect(page.getByText(/Say what took the rest away/)).toBeVisible()
    expect(await stateOf(app, permit.id)).toBe('open')
    await cause.fill('Rust in the column')
    await page.getByRole('button', { name: 'Keep the readings' }).click()
    await page.waitForURL(`**/permits/${permit.id}`)
    expect(await stateOf(app, permit.id)).toBe('open')
  })

  await test.step('below the limit it holds at once, and says so', async () => {
    await visit(page, `/permits/${permit.id}/gas-test`)
    await typeAir(page, day, '19.4')
    await page.getByRole('button', { name: 'Keep the readings' }).click()
    await expect(page.getByText('Kept. The permit is held.')).toBeVisible()
    expect(await stateOf(app, permit.id)).toBe('held')
    await visit(page, `/permits/${permit.id}`)
    await expect(page.getByText(/Held .*: the gas test read badly/)).toBeVisible()
  })
})

test('a permit held over lunch that nobody resumes becomes the watch by itself at its end', async ({
  app,
  page,
  signInAs,
}) => {
  const { permit, team } = await buildHeldPermit(app.owner, { validForMin: 30 })
  await signInAs(team.fireWatch.email)
  await visit(page, `/permits/${permit.id}`)
  const held = page.getByText(/^Held /).filter({ visible: true })
  await expect(held.first()).toBeVisible()
  try {
    await app.setClock(31 * MINUTE_MS)
    await expect.poll(() => stateOf(app, permit.id), { timeout: TICK_MS }).toBe('watch')
    await visit(page, `/permits/${permit.id}/watch`)
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
    const { rows } = await app.owner.query(
      'SELECT expired_at = valid_until AS is_at_its_end, torch_out_at < valid_until AS is_watched_since FROM permits WHERE id = $1',
      [permit.id],
    )
    // What was watched since the torch went out counts: the hold's own minute stays.
    expect(rows).toEqual([{ is_at_its_end: true, is_watched_since: true }])
  } finally {
    await app.setClock(0)
  }
})

test('the rules behind a permit, and a local ruleset that is tried before it takes effect', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const worksite = await buildWorksite(app.owner)
  const { permit, team, site } = await buildOpenPermit(app.owner, { worksite })
  await signInAs(team.foreman.email)
  await visit(page, `/permits/${permit.id}`)
  await page.getByRole('link', { name: 'Rules', exact: true }).click()
  await expect(page.getByRole('heading', { name: 'Rules and precautions' }).first()).toBeVisible()
  await expect(page.getByText('It goes away if you:').first()).toBeVisible()
  await expect(page.getByText('From memory: check before you rely on it').first()).toBeVisible()
  await expectAccessible()

  const administrator = await buildPerson(app.owner, {
    grants: [{ siteId: site.id, role: 'administrator' }],
  })
  await signInAs(administrator.email)
  await visit(page, `/rules/new?site=${site.id}`)
  await page.getByLabel('Name', { exact: true }).fill('City order on open flames')
  await page.getByLabel('Short name').fill('city-order')
  await page.getByLabel('Where it stands').fill('Order 12, section 4')
  await page.getByLabel('Edition', { exact: true }).fill('2026')
  await page.getByLabel('How you know it').selectOption('read')
  await page.getByLabel('Watch after torch out, min').fill('9000')
  await expect(page.getByText(/lies between 0 and 1440/)).toBeVisible()
  await page.getByLabel('Watch after torch out, min').fill('90')
  await expect(
    page.getByText(/answers? changes? of \d+ published cases|answers change of/),
  ).toBeVisible()
  await page.getByRole('button', { name: 'Put it in force' }).click()
  await page.waitForURL(`**/rules?site=${site.id}`)
  await expect(page.getByRole('heading', { name: 'City order on open flames' })).toBeVisible()
  await expectAccessible()
})

test('a flashback is recorded from the permit: it is held, and the outfit goes out of service', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const { permit, team, outfit } = await buildOpenPermit(app.owner)
  await signInAs(team.operator.email)
  await visit(page, `/permits/${permit.id}`)
  await page.getByRole('link', { name: 'Incident', exact: true }).click()
  await page.getByLabel('What happened', { exact: true }).selectOption('flashback')
  await expect(page.getByText('The permit is held: torch out, valves shut.')).toBeVisible()
  await expect(page.getByText(/The outfit goes out of service/)).toBeVisible()
  await page.getByLabel('What happened, in your words').fill('Squeal, flame went back')
  await expectAccessible()
  await page.getByRole('button', { name: 'Record it now' }).click()
  await page.waitForURL(/\/incidents\/[0-9a-f-]{36}$/)
  await expect(page.getByText('Squeal, flame went back')).toBeVisible()
  expect(await stateOf(app, permit.id)).toBe('held')
  const { rows } = await app.owner.query('SELECT state FROM outfits WHERE id = $1', [outfit.id])
  expect(rows).toEqual([{ state: 'out_of_service' }])
})

import type { Page } from '@playwright/test'
import { verifyRecords } from '../../bin/lib/verify.mjs'
import { plantedIn } from '../../seed/planted'
import { pdfText } from '../setup/pdf-text'
import { expect, test } from './fixtures'

const MANAGER = 'jo.pruitt@ferrowdunn.example'
const AUDITOR = 'edda.varley@ferrowdunn.example'
const LOOKED_WITHIN_MS = 90_000

test.use({ viewport: { width: 1440, height: 900 } })

/** Oxygen that the job's table says was used: the figure, without its interval. */
async function oxygenUsed(page: Page): Promise<number> {
  const row = page.getByRole('row').filter({ has: page.getByRole('rowheader', { name: 'Oxygen' }) })
  const text = ((await row.getByRole('cell').nth(1).textContent()) ?? '').replaceAll(',', '')
  return Number.parseFloat(text)
}

test('the auditor finds the leak within four clicks; a swap that the manager accepts changes its job’s numbers', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  test.setTimeout(LOOKED_WITHIN_MS + 120_000)
  const planted = await plantedIn(app.owner)
  const leak = planted.find((fault) => fault.kind === 'slow_leak')
  const swap = planted.find((fault) => fault.kind === 'unlogged_swap')
  await expect
    .poll(
      async () =>
        (await app.owner.query('SELECT 1 FROM audit_runs WHERE finished_at IS NOT NULL')).rowCount,
      { timeout: LOOKED_WITHIN_MS },
    )
    .toBeGreaterThan(0)

  await signInAs(AUDITOR)
  // The company: jobs by how far they are off, crews drawn towards their site, what unaccounted gas costs; files of each.
  await page.goto('/audit?days=all')
  await page.getByRole('link', { name: 'Furthest off first' }).click()
  await expect(page).toHaveURL(/order=off/)
  await expect(page.getByRole('table', { name: /^How each crew runs/ })).toContainText('%')
  await expect(page.getByRole('table', { name: /^Gas beyond the work/ })).toContainText('Together')
  await expectAccessible()
  const crewsFile = await page.request.get('/api/audit/csv?what=crews&days=all')
  expect((await crewsFile.text()).split('\r\n')[0]).toContain('own_record,counts,site_factor')
  const book = await page.request.get('/api/audit/xlsx?days=all&order=off')
  expect((await book.body()).subarray(0, 2).toString()).toBe('PK')
  const paper = await page.request.get('/api/audit/pdf?days=all&order=off')
  expect((await paper.body()).subarray(0, 4).toString()).toBe('%PDF')
  await page.goto('/audit/balance?alarms=4')
  await expect(page.getByRole('link', { name: 'Four a year' })).toHaveAttribute(
    'aria-current',
    'page',
  )
  await expect(
    page.getByRole('heading', { name: 'Moving average of the same losses' }),
  ).toBeVisible()

  await page.goto('/sites')
  let clicks = 0
  const press = async (name: string | RegExp) => {
    clicks += 1
    await page.getByRole('link', { name }).first().click()
  }
  await press('Gas audit')
  await press('Findings')
  await press(new RegExp(`^Leak while it stood, ${leak?.serials?.[0]}`))
  expect(clicks).toBeLessThanOrEqual(4)
  await expect(page.getByRole('heading', { level: 1 })).toContainText(leak?.serials?.[0] ?? '')
  const causes = page.getByRole('table', { name: 'What would explain it, best first' })
  await expect(causes.getByRole('row').nth(1)).toContainText('Soap the valve')
  await expect(page.locator('.desk-page-sentence')).toContainText('Oxygen may be leaking')
  const readings = page.getByRole('table', { name: /^Readings of the cylinders/ })
  expect(await readings.getByText('(named)').count()).toBeGreaterThan(5)
  await expectAccessible()

  await expect(page.getByText('Only a shop manager of this site decides.')).toBeVisible()

  await signInAs(MANAGER)
  const { rows } = await app.owner.query('SELECT id FROM jobs WHERE number = $1', [swap?.jobNumber])
  await page.goto(`/audit/${rows[0]?.id}`)
  const before = await oxygenUsed(page)
  const entries = page.getByRole('table', { name: /^Oxygen: entries of the record/ })
  await expect(entries.getByRole('rowheader', { name: /^Used, by/ })).toBeVisible()
  expect(await entries.getByText('Swapped').count()).toBeGreaterThan(1)
  await expect(page.getByRole('heading', { name: 'What would narrow the oxygen' })).toBeVisible()
  await expectAccessible()
  await page.goto('/audit/findings')
  await page
    .getByRole('row')
    .filter({ hasText: `Job ${swap?.jobNumber}` })
    .getByRole('link', { name: /^Swap not logged/ })
    .first()
    .click()
  const choice = page.getByLabel('Cause', { exact: true })
  const wanted = choice.getByRole('option').filter({ hasText: swap?.serials?.[1] ?? '' })
  await choice.selectOption((await wanted.first().getAttribute('value')) ?? '')
  await page.getByRole('button', { name: 'Accept this cause' }).click()
  await expect(page.getByText('Fill this in.')).toBeVisible()
  await page
    .getByLabel('What settled it, or why not')
    .fill('Read both: the one in the rack is empty.')
  await page.getByRole('button', { name: 'Accept this cause' }).click()
  await expect(page.getByText(/accepted “Swap not logged”/)).toBeVisible()
  await expect(page.getByRole('button', { name: 'Withdraw what was accepted' })).toBeVisible()

  await page.goto(`/audit/${rows[0]?.id}`)
  // Nearly a whole cylinder of 244 ft³ more.
  const added = (await oxygenUsed(page)) - before
  expect(added).toBeGreaterThan(190)
  expect(added).toBeLessThan(250)
  expect((await verifyRecords(app.ownerUrl)).ok).toBe(true)

  // The job's audit as files: every entry with what it put in, what was accepted, methods and sources.
  const file = async (address: string) => (await page.request.get(address)).body()
  const paperOfJob = pdfText(await file(`/api/audit/pdf?job=${rows[0]?.id}`)).replaceAll(
    /\s+/g,
    ' ',
  )
  expect(paperOfJob).toContain('every swap and reading that made the number')
  expect(paperOfJob).toMatch(/swap that nobody logged: accepted by Jo Pruitt/)
  expect(paperOfJob).toContain('Methods and sources')
  expect((await file(`/api/audit/xlsx?job=${rows[0]?.id}`)).subarray(0, 2).toString()).toBe('PK')
  const lines = (await file(`/api/audit/csv?job=${rows[0]?.id}`)).toString().trim().split('\r\n')
  expect(lines[0]).toContain('used_since_last_kg,doubt_kg')
  expect(lines.length).toBeGreaterThan(5)
  const weeks = (await file('/api/audit/csv?what=weeks')).toString().trim().split('\r\n')
  expect(weeks[0]).toContain('lost_kg,lost_u_kg,deviations,summed,limit')
  expect(weeks.length).toBeGreaterThan(10)
})

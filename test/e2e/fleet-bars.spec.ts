import { buildHeldPermit, buildOpenPermit, buildWorksite } from '../../seed/builders/permits'
import { expect, test } from './fixtures'
import { visit } from './visit'

test.use({ viewport: { width: 1440, height: 900 } })

test('the bars of all sites are filtered by the address, which is kept through a reload and by going back', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const worksite = await buildWorksite(app.owner)
  const { site } = worksite
  const open = await buildOpenPermit(app.owner, { worksite })
  const held = await buildHeldPermit(app.owner, {
    worksite: await buildWorksite(app.owner, site),
    area: site.otherArea,
  })
  await signInAs(worksite.team.foreman.email)
  const bar = (id: string) => page.locator(`a[href="/permits/${id}"]`).filter({ visible: true })
  const shows = async (wanted: { open: number; held: number }) => {
    await expect(bar(open.permit.id)).toHaveCount(wanted.open)
    await expect(bar(held.permit.id)).toHaveCount(wanted.held)
  }
  await visit(page, '/sites')
  await shows({ open: 1, held: 1 })

  const filters = page.getByRole('navigation', { name: 'Which permits' })
  await filters.getByRole('link', { name: 'Held' }).click()
  await page.waitForURL('**/sites?show=held')
  await shows({ open: 0, held: 1 })
  await page.reload()
  await shows({ open: 0, held: 1 })
  await expect(filters.getByRole('link', { name: 'Held' })).toHaveAttribute('aria-current', 'true')
  await expectAccessible()

  await filters.getByRole('link', { name: 'Open' }).click()
  await page.waitForURL('**/sites?show=open')
  await shows({ open: 1, held: 0 })
  await page.goBack()
  await shows({ open: 0, held: 1 })

  // Sent to somebody else, the same address shows the same; one that nobody offers shows all.
  await visit(page, '/sites?show=overdue')
  await expect(page.getByText('No permit of this kind at any site.')).toBeVisible()
  await visit(page, '/sites?show=whatever')
  await shows({ open: 1, held: 1 })
})

import { v7 as uuidv7 } from 'uuid'
import { BUILT_PIN } from '../../seed/builders/people'
import { buildClearedPermit, buildWorksite } from '../../seed/builders/permits'
import { expect, test } from './fixtures'
import { visit } from './visit'

test.use({ viewport: { width: 360, height: 780 } })

test('in a confined space the entry supervisor signs after the watch, with a PIN of their own', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const worksite = await buildWorksite(app.owner)
  const { site, team } = worksite
  const facts = { ...site.area.facts, enclosed: true, confinedSpace: true }
  await app.owner.query('UPDATE areas SET facts = $2 WHERE id = $1', [site.area.id, facts])
  const { permit } = await buildClearedPermit(app.owner, {
    worksite,
    area: { ...site.area, facts },
  })
  await app.owner.query(
    `INSERT INTO qualifications (id, person_id, kind, valid_from, valid_until, evidence)
     VALUES ($1, $2, 'entry_supervisor', '2020-01-01', '2099-12-31', 'card')`,
    [uuidv7(), team.foreman.id],
  )
  await signInAs(team.foreman.email)
  await visit(page, `/permits/${permit.id}/sign`)
  for (const [person, press] of [
    [team.operator, 'I agree'],
    [team.fireWatch, 'I acknowledge'],
  ] as const) {
    await page.getByLabel(`PIN of ${person.name}`).fill(BUILT_PIN)
    await page.getByRole('button', { name: press }).click()
    await expect(page.getByRole('button', { name: press })).toHaveCount(0)
  }
  await expect(page.getByText(/names this hot work/)).toBeVisible()
  await page.getByLabel('Entry supervisor', { exact: true }).selectOption(team.foreman.id)
  await page.getByLabel('PIN of the entry supervisor').fill(BUILT_PIN)
  await expectAccessible()
  await page.getByRole('button', { name: 'Sign for the entry' }).click()
  await expect(page.getByText(`Entry supervisor: ${team.foreman.name}`)).toBeVisible()
  await expect(page.getByRole('button', { name: 'Sign to issue' })).toBeVisible()
})

import { buildCylinder } from '../../seed/builders/gear'
import { buildPerson } from '../../seed/builders/people'
import { buildSite } from '../../seed/builders/sites'
import { expect, test } from './fixtures'
import { arrive, visit } from './visit'

const CHECKS = [
  /Regulators off/,
  /Valves shut/,
  /Caps on/,
  /^Upright/,
  /Lashed/,
  /Body open or ventilated/,
  /Oxygen apart/,
  /The driver knows/,
]

test('a truck loaded past its limit stays until it has papers, and its load stands at one site only', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const [from, to] = [await buildSite(app.owner), await buildSite(app.owner)]
  const grants = [from, to].map(({ id }) => ({ siteId: id, role: 'yard_hand' as const }))
  const hand = await buildPerson(app.owner, { grants })
  await signInAs(hand.email)
  await visit(page, `/trips?site=${from.id}`)
  await page.getByLabel('Name').fill('Flatbed')
  await page.getByLabel('Plate').fill(`T${from.id.slice(-8)}`)
  await page.getByRole('button', { name: 'Add the vehicle' }).click()
  await page.getByLabel('To', { exact: true }).selectOption({ label: to.name })
  await page.getByLabel('Driver').selectOption({ label: hand.name })
  await page.getByRole('button', { name: 'Begin to load' }).click()
  await arrive(page, /\/trips\/[0-9a-f-]{36}$/)

  const serials: string[] = []
  for (let i = 0; i < 3; i += 1) {
    const { serial } = await buildCylinder(app.owner, {
      siteId: from.id,
      keeperId: hand.id,
      sizeId: i === 0 ? 'acetylene-225' : 'oxygen-244',
    })
    serials.push(serial)
    await page.getByLabel('Serial', { exact: true }).fill(serial)
    await page.getByLabel('Weight on the scale').fill('160')
    await page.getByRole('button', { name: 'Put it on' }).click()
    await expect(page.getByRole('listitem').filter({ hasText: serial }).first()).toBeVisible()
  }
  await expect(page.getByText('Not materials of trade')).toBeVisible()
  await expectAccessible()
  for (const check of CHECKS) await page.getByLabel(check).check()
  await page.getByRole('button', { name: 'It leaves' }).click()
  // 49 CFR 173.6(d), from memory: 440 lb of materials of trade on a vehicle.
  await expect(page.getByText(/480 lb, more than 440 lb.*49 CFR 173\.6\(d\)/)).toBeVisible()

  await page.getByLabel('Number of the shipping paper').fill('SP-14')
  await page.getByRole('button', { name: 'It leaves' }).click()
  await expect(page.getByText(/no training for papers on record that day/)).toBeVisible()
  await app.owner.query(
    `INSERT INTO qualifications (id, person_id, kind, valid_from, valid_until, evidence)
     VALUES (gen_random_uuid(), $1, 'hazmat_driver', '2020-01-01', '2099-01-01', 'Course and test')`,
    [hand.id],
  )
  await page.getByRole('button', { name: 'It leaves' }).click()
  await expect(page.getByRole('heading', { name: `Unload at ${to.name}` })).toBeVisible()
  const read = (siteId: string) =>
    app.owner
      .query("SELECT 1 FROM cylinders WHERE site_id = $1 AND status <> 'in_transit'", [siteId])
      .then(({ rowCount }) => rowCount)
  expect([await read(from.id), await read(to.id)]).toEqual([0, 0])
  // The first by the box that a scanner types into, the others by their ticks. 225 ft³ of acetylene is more
  // than the 200 that want the fire official's permit (IFC table 105.6.8): asked about, and answered there.
  await page.getByLabel('Stands in').first().selectOption({ label: to.area.name })
  await page.getByLabel('Serial, by hand').fill(serials[0] ?? '')
  await page.getByRole('button', { name: 'Off it goes' }).click()
  await expect(page.getByText(/225 ft³: more than 200 ft³/)).toBeVisible()
  expect(await read(to.id)).toBe(0)
  await expectAccessible()
  await page.getByRole('button', { name: `I looked: ${serials[0]}` }).click()
  await expect(page.getByText(`Off: ${serials[0]}`)).toBeVisible()
  await expect.poll(() => page.getByRole('checkbox').count()).toBe(2)
  for (const box of await page.getByRole('checkbox').all()) await box.check()
  await page.getByRole('button', { name: 'These are off' }).click()
  await expect(page.getByText('Unloaded', { exact: false }).first()).toBeVisible()
  await expect.poll(() => read(to.id)).toBe(3)
})

test('an administrator adds somebody, who sets a password and a PIN of their own before anything else', async ({
  app,
  page,
  browser,
  signInAs,
  expectAccessible,
}) => {
  const site = await buildSite(app.owner)
  const keeper = await buildPerson(app.owner, {
    grants: [{ siteId: site.id, role: 'administrator' }],
  })
  const email = `ines-${site.id.slice(-8)}@ferrowdunn.example`
  await signInAs(keeper.email)
  await visit(page, '/people/new')
  await page.getByLabel('Name').fill('Ines Hand')
  await page.getByLabel('E-mail').fill(email)
  await page.getByLabel('First role').selectOption({ label: 'Operator' })
  await page.getByRole('button', { name: 'Add a person' }).click()
  const password = await page.getByText(/^[a-z2-9]{4}-[a-z2-9]{4}-[a-z2-9]{4}$/).textContent()
  await expectAccessible()

  const context = await browser.newContext({ baseURL: app.url })
  const theirs = await context.newPage()
  const signIn = async (secret: string) => {
    await theirs.getByLabel('E-mail').fill(email)
    await theirs.getByLabel('Password').fill(secret)
    await theirs.getByRole('button', { name: 'Sign in', exact: true }).click()
  }
  await visit(theirs, '/sign-in')
  await signIn(password ?? '')
  await theirs.waitForURL('**/begin')
  await visit(theirs, `/today?site=${site.id}`)
  await expect(theirs).toHaveURL(/\/begin$/)
  await expectAccessible(theirs)
  await theirs.getByLabel('Password', { exact: true }).fill('eleven-kerf-oblique')
  await theirs.getByLabel('The same password again').fill('eleven-kerf-oblique')
  await theirs.getByLabel('Signing PIN').fill('518264')
  await theirs.getByLabel('The same PIN again').fill('518264')
  await theirs.getByRole('button', { name: 'Set them, then sign in' }).click()
  await theirs.waitForURL('**/sign-in')
  await signIn('eleven-kerf-oblique')
  await theirs.waitForURL((url) => !/sign-in|begin/.test(url.pathname))
  await context.close()
})

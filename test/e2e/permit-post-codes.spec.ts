import { buildPerson } from '../../seed/builders/people'
import { buildWatchPermit } from '../../seed/builders/permits'
import { expect, test } from './fixtures'
import { afterTorchOut, buildMorning } from './moved-clock'
import { visit } from './visit'

test.use({ viewport: { width: 360, height: 780 } })

const WORK = 'PK7W-2M4Q-HX3R'
const BELOW = 'PX3H-9T8B-WW2D'

test('a round is sent with the codes of its posts, and one with a lost label proves nothing', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  test.setTimeout(180_000)
  const worksite = await buildMorning(app)
  const posts = [
    { id: 'At the work', name: 'At the work', code: WORK },
    { id: 'Below', name: 'Below', code: BELOW },
  ]
  const { permit, team } = await buildWatchPermit(app.owner, {
    worksite,
    area: { ...worksite.site.area, posts },
    watchMin: 60,
  })
  const roundsKept = async () => {
    const { rows } = await app.owner.query<{ posts: { scanned: boolean }[] }>(
      'SELECT posts FROM rounds WHERE permit_id = $1 ORDER BY at',
      [permit.id],
    )
    return rows.map((row) => row.posts.map((post) => post.scanned))
  }
  const post = (name: string) => page.getByRole('listitem').filter({ hasText: name })
  const clear = async () => {
    for (const strip of await page.getByRole('radio', { name: 'Clear' }).all()) await strip.check()
  }
  await signInAs(team.fireWatch.email)
  try {
    await test.step('clear is not enough: each post is scanned, and another post’s code is not its own', async () => {
      await afterTorchOut(app, permit.id, 9)
      await visit(page, `/permits/${permit.id}/watch/round`)
      await clear()
      await expect(page.getByRole('button', { name: /2 posts/ })).toBeVisible()
      await post('At the work').getByLabel('Code at the post').fill(WORK.toLowerCase())
      await expect(post('At the work').getByText('Scanned here.')).toBeVisible()
      await post('Below').getByLabel('Code at the post').fill(WORK)
      await expect(post('Below').getByText('That is the code of At the work.')).toBeVisible()
      await expect(page.getByRole('button', { name: 'Send round 1' })).toHaveCount(0)
      await expectAccessible()
    })

    await test.step('what was scanned stays over a reload', async () => {
      await page.reload()
      await expect(post('At the work').getByText('Scanned here.')).toBeVisible()
    })

    await test.step('with both codes it counts', async () => {
      await post('Below').getByLabel('Code at the post').fill(BELOW)
      await page.getByRole('button', { name: 'Send round 1' }).click()
      await page.waitForURL(new RegExp(`/permits/${permit.id}/watch$`))
      expect(await roundsKept()).toEqual([[true, true]])
    })

    await test.step('a label that is gone: kept with its reason, and the round stays owed', async () => {
      await afterTorchOut(app, permit.id, 19)
      await visit(page, `/permits/${permit.id}/watch/round`)
      await clear()
      await post('At the work').getByLabel('Code at the post').fill(WORK)
      await post('Below').getByText('Can’t be scanned?').click()
      await post('Below').getByLabel('Because').selectOption('The label is gone')
      await expect(post('Below').getByText(/proves nobody’s presence/)).toBeVisible()
      await page.getByRole('button', { name: 'Send round 2' }).click()
      await page.waitForURL(new RegExp(`/permits/${permit.id}/watch$`))
      await expect(page.getByText(/not scanned at Below\. This round proves nobody/)).toBeVisible()
      await expect(page.getByRole('link', { name: 'Walk round 2', exact: true })).toBeVisible()
      expect(await roundsKept()).toEqual([
        [true, true],
        [true, false],
      ])
    })
  } finally {
    await app.setClock(0)
  }
})

test('an administrator gives the posts of an area codes and gets their labels', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  const { site } = await buildMorning(app)
  try {
    const grants = [{ siteId: site.id, role: 'administrator' as const }]
    await signInAs((await buildPerson(app.owner, { grants })).email)
    await visit(page, `/sites/${site.id}/posts`)
    await expect(page.getByText('No post carries a code.')).toBeVisible()
    await visit(page, `/sites/${site.id}/area?area=${site.area.id}`)
    await page.getByLabel('Each post carries a code that the fire watch scans').check()
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('link', { name: 'Labels of the posts' }).click()
    const labels = page.locator('.post-label')
    await expect(labels).toHaveCount(site.area.posts.length)
    const [first] = await labels.all()
    const code = await first?.getByRole('img').getAttribute('aria-label')
    expect(code).toMatch(/^([A-Z2-9]{4}-){2}[A-Z2-9]{4}$/)
    await expect(page.getByRole('button', { name: 'Print the labels' })).toBeVisible()
    await expectAccessible()
  } finally {
    await app.setClock(0)
  }
})

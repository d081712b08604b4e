import { localClock, localDay } from '../../lib/format/local-time'
import { BUILT_PIN, buildPerson } from '../../seed/builders/people'
import { buildOpenPermit } from '../../seed/builders/permits'
import { databaseNow } from '../../seed/play'
import { expect, test } from './fixtures'
import { buildMorning, minutesOn, stateOf } from './moved-clock'
import { endWork } from './story-watch'
import { arrive, settled, visit } from './visit'

const PHONE = { width: 360, height: 780 }
const MINUTE_MS = 60_000
/** The background tick comes each ten seconds. */
const TICK_MS = 40_000

test.use({ viewport: PHONE })

test('at a change of shift torch and watch are handed over, and taken by PIN only', async ({
  app,
  page,
  signInAs,
  openAs,
  expectAccessible,
}) => {
  test.setTimeout(180_000)
  const worksite = await buildMorning(app)
  const { site, team } = worksite
  const { permit } = await buildOpenPermit(app.owner, { worksite })
  const second = await buildPerson(app.owner, { grants: [{ siteId: site.id, role: 'operator' }] })
  const relief = await buildPerson(app.owner, { grants: [{ siteId: site.id, role: 'fire_watch' }] })
  await signInAs(team.foreman.email)
  const formOf = (press: string) =>
    page.locator('form', { has: page.getByRole('button', { name: press, exact: true }) })
  const stintsOf = async (role: string) => {
    const { rows } = await app.owner.query<{ person_id: string; is_on: boolean }>(
      'SELECT person_id, to_at IS NULL AS is_on FROM stints WHERE permit_id = $1 AND role = $2 ORDER BY from_at, person_id',
      [permit.id, role],
    )
    return rows
  }

  await test.step('the watch: refused without the right PIN, taken with it', async () => {
    await visit(page, `/permits/${permit.id}`)
    await page.getByRole('link', { name: 'Someone takes over' }).click()
    await arrive(page, /\/hand-over$/)
    await settled(page)
    await expect(
      page.getByRole('heading', { name: `On watch now: ${team.fireWatch.name}` }),
    ).toBeVisible()
    const form = formOf('Take over the watch')
    await form.getByLabel('Who watches from now').selectOption({ value: relief.id })
    await form.getByLabel('Their own PIN').fill('135791')
    await expectAccessible()
    await form.getByRole('button', { name: 'Take over the watch' }).click()
    await expect(page.getByRole('alert').filter({ hasText: 'Not taken over.' })).toBeVisible()
    await expect(form.getByLabel('Their own PIN')).toHaveValue('')
    await expect(form.getByLabel('Who watches from now')).toHaveValue(relief.id)
    await form.getByLabel('Their own PIN').fill(BUILT_PIN)
    await form.getByRole('button', { name: 'Take over the watch' }).click()
    await arrive(page, new RegExp(`/permits/${permit.id}$`))
  })

  await test.step('the torch, with a PIN of its own', async () => {
    await visit(page, `/permits/${permit.id}/hand-over`)
    await expect(page.getByRole('heading', { name: `On watch now: ${relief.name}` })).toBeVisible()
    const form = formOf('Take over the torch')
    await form.getByLabel('Who cuts from now').selectOption({ value: second.id })
    await form.getByLabel('Their own PIN').fill(BUILT_PIN)
    await form.getByRole('button', { name: 'Take over the torch' }).click()
    await arrive(page, new RegExp(`/permits/${permit.id}$`))
    const { rows } = await app.owner.query<{ act: string; person_id: string }>(
      "SELECT act, person_id FROM signatures WHERE permit_id = $1 AND act IN ('agree', 'acknowledge') ORDER BY at DESC, id DESC LIMIT 2",
      [permit.id],
    )
    expect(rows).toEqual([
      { act: 'agree', person_id: second.id },
      { act: 'acknowledge', person_id: relief.id },
    ])
  })

  await test.step('after the work the rounds are those of who took over, and of nobody else', async () => {
    await endWork(page, permit.id)
    expect((await stintsOf('fire_watch')).filter((stint) => stint.is_on)).toEqual([
      { person_id: relief.id, is_on: true },
    ])
    expect((await stintsOf('operator')).filter((stint) => stint.is_on)).toEqual([])
    const [left, came] = [
      await (await openAs(team.fireWatch.email)).newPage(),
      await (await openAs(relief.email)).newPage(),
    ]
    await left.setViewportSize(PHONE)
    await came.setViewportSize(PHONE)
    await visit(left, `/permits/${permit.id}/watch`)
    await expect(left.getByText('Only who is on watch records rounds.')).toBeVisible()
    await visit(came, `/permits/${permit.id}/watch`)
    await expect(came.getByRole('button', { name: /^Round 1 opens / })).toBeVisible()
  })
})

test('what was cut after the end is refused by the log, and kept as work outside the permit', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  test.setTimeout(180_000)
  const worksite = await buildMorning(app)
  const { site, team } = worksite
  const { permit } = await buildOpenPermit(app.owner, { worksite, validForMin: 30 })
  const at = async (minutesAgo: number) =>
    localClock(new Date((await databaseNow(app.owner)) - minutesAgo * MINUTE_MS), site.zone)
  await signInAs(team.operator.email)
  try {
    await minutesOn(app, 40)
    await expect.poll(() => stateOf(app, permit.id), { timeout: TICK_MS }).toBe('watch')

    await visit(page, `/permits/${permit.id}/log`)
    const [lit, out] = [await at(8), await at(3)]
    await page.getByLabel('Pieces done').fill('1')
    await page.getByLabel('From', { exact: true }).fill(lit)
    await page.getByLabel('To', { exact: true }).fill(out)
    await page.getByLabel('Day').fill(localDay(new Date(await databaseNow(app.owner)), site.zone))
    await page.getByRole('button', { name: 'Keep it in the log' }).click()
    const refused = page.getByRole('alert').filter({ hasText: 'log.' })
    await expect(refused.getByText(/^The permit was not open from /)).toBeVisible()
    await expectAccessible()

    await page.getByRole('link', { name: 'Record it as work outside a permit' }).click()
    await expect(page.getByLabel('Permit it belongs to')).toHaveValue(permit.id)
    await page.getByLabel('Torch lit').fill(lit)
    await page.getByLabel('Torch out').fill(out)
    await page.getByLabel('What was cut').fill('Last bolt of the base plate')
    await page.getByLabel('Why it was outside a permit').fill('Did not hear the end called')
    await expectAccessible()
    await page.getByRole('button', { name: 'Record it', exact: true }).click()
    await arrive(page, new RegExp(`/permits/${permit.id}/record$`))

    const { rows } = await app.owner.query(
      `SELECT (SELECT count(*) FROM hot_work_logs WHERE permit_id = p.id)::int AS logged, count(w.id)::int AS outside,
         bool_and(p.torch_out_at = w.to_at) AS watched_from_then,
         (SELECT count(*) FROM notices n WHERE n.person_id = $2 AND n.kind = 'work_outside_permit')::int AS told
       FROM permits p JOIN work_outside_permit w ON w.permit_id = p.id WHERE p.id = $1 GROUP BY p.id`,
      [permit.id, team.pai.id],
    )
    expect(rows).toEqual([{ logged: 0, outside: 1, watched_from_then: true, told: 1 }])
  } finally {
    await app.setClock(0)
  }
})

test('held over lunch and never resumed: the end makes it a watch, and nobody goes on after it', async ({
  app,
  page,
  signInAs,
}) => {
  test.setTimeout(180_000)
  const worksite = await buildMorning(app)
  const { team } = worksite
  const { permit } = await buildOpenPermit(app.owner, { worksite, validForMin: 30 })
  await signInAs(team.foreman.email)
  await visit(page, `/permits/${permit.id}/hold`)
  await page.getByLabel('Torch is out').check()
  await page.getByLabel('Cylinder valves are shut').check()
  await page.getByLabel('Why').fill('Lunch')
  await page.getByRole('button', { name: 'Hold', exact: true }).click()
  await arrive(page, new RegExp(`/permits/${permit.id}$`))
  await expect(page.getByText(/^Held .*: Lunch$/)).toBeVisible()
  const { rows: held } = await app.owner.query('SELECT torch_out_at FROM permits WHERE id = $1', [
    permit.id,
  ])
  try {
    await minutesOn(app, 31)
    await expect.poll(() => stateOf(app, permit.id), { timeout: TICK_MS }).toBe('watch')

    await visit(page, `/permits/${permit.id}/resume`)
    await page.getByLabel('It is as it was cleared').check()
    await page.getByLabel('What was looked at').fill('Bay and far side')
    await page.getByRole('button', { name: 'Keep the look' }).click()
    await expect(page.getByText(/^Looked at /)).toBeVisible()
    await page.getByLabel('PAI', { exact: true }).selectOption({ value: team.pai.id })
    await page.getByLabel('PIN of the PAI').fill(BUILT_PIN)
    await page.getByRole('button', { name: 'Go on' }).click()
    const refused = page.getByRole('alert').filter({ hasText: 'go on yet' })
    await expect(refused.getByRole('heading', { name: /^The permit ended at / })).toBeVisible()
    expect(await stateOf(app, permit.id)).toBe('watch')

    // What is owed is counted from the minute the torch went out for lunch, not from the end.
    const { rows: now } = await app.owner.query('SELECT torch_out_at FROM permits WHERE id = $1', [
      permit.id,
    ])
    expect(now).toEqual(held)
  } finally {
    await app.setClock(0)
  }
})

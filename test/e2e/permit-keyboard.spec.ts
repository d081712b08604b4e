import type { Page } from '@playwright/test'
import { localClock, localDay } from '../../lib/format/local-time'
import { BUILT_PIN, type BuiltPerson } from '../../seed/builders/people'
import { databaseNow } from '../../seed/play'
import { expect, test } from './fixtures'
import { chooseOption, chooseRadio, pressOn, tick, typeInto } from './keyboard'
import { afterTorchOut, buildMorning, stateOf } from './moved-clock'
import { WALK } from './story-foreman'
import { arrive, settled, visit } from './visit'

test.use({ viewport: { width: 360, height: 780 } })

/** As a browser set to American English takes them: digits of month, day, year; hour, minute, AM or PM. */
const dayKeys = (day: string) => `${day.slice(5, 7)}${day.slice(8)}${day.slice(0, 4)}`
const clockKeys = (clock: string) => {
  const hour = Number(clock.slice(0, 2))
  const shown = String(hour % 12 === 0 ? 12 : hour % 12).padStart(2, '0')
  return `${shown}${clock.slice(3)}${hour < 12 ? 'AM' : 'PM'}`
}

const button = (page: Page, name: string | RegExp) =>
  page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name })
const link = (page: Page, name: string) => page.getByRole('link', { name, exact: true })

async function sign(page: Page, person: BuiltPerson, press: string): Promise<void> {
  await typeInto(page, page.getByLabel(`PIN of ${person.name}`), BUILT_PIN)
  await pressOn(page, button(page, press))
}

test('a clean bay is prepared, cleared, cut in, watched and closed without a mouse, everything found by its name', async ({
  app,
  page,
  signInAs,
  expectAccessible,
}) => {
  test.setTimeout(420_000)
  const worksite = await buildMorning(app)
  const { site, team, job, outfit } = worksite
  const at = async (minutes: number) => new Date((await databaseNow(app.owner)) + minutes * 60_000)
  await signInAs(team.foreman.email)

  const permit = await test.step('cold or elsewhere first, then the whole form', async () => {
    await visit(page, `/permits/new?job=${job.id}`)
    await chooseRadio(page, page.getByRole('radio', { name: 'Neither', exact: true }))
    const type = (label: string, words: string) =>
      typeInto(page, page.getByLabel(label, { exact: true }), words)
    await type('Why neither', 'Too thick to saw in place')
    await type('What is cut', 'Column stubs')
    await chooseOption(page, page.getByLabel('How', { exact: true }), 'oxyfuel_cutting')
    await chooseOption(page, page.getByLabel('Area', { exact: true }), site.area.id)
    await type('Where in it', 'Grid C, north side')
    await chooseOption(page, page.getByLabel('Outfit', { exact: true }), outfit.id)
    await type('Until', clockKeys(localClock(await at(240), site.zone)))
    await chooseOption(page, page.getByLabel('Who cuts', { exact: true }), team.operator.id)
    await chooseOption(page, page.getByLabel('Who watches', { exact: true }), team.fireWatch.id)
    await type('What is inside the piece, or was', 'Solid plate')
    await type('What is behind it', 'Bare steel')
    await tick(page, page.getByLabel('Drained'))
    await expectAccessible()
    await pressOn(page, button(page, 'Prepare'))
    // Isolated, and nobody said who proved it: refused, and nothing that was typed is lost.
    const proved = page.getByLabel('Who proved it', { exact: true })
    await expect(proved).toHaveAttribute('aria-invalid', 'true')
    await expect(page.getByLabel('Where in it', { exact: true })).toHaveValue('Grid C, north side')
    await typeInto(page, proved, 'H. Vance')
    await pressOn(page, button(page, 'Prepare'))
    await arrive(page, /\/permits\/[0-9a-f-]{36}\/clearance$/)
    return { id: page.url().split('/').at(-2) ?? '' }
  })
  await visit(page, `/permits/${permit.id}`)
  await expect(page.getByText('drained, proved by H. Vance')).toBeVisible()

  await test.step('the walk: fifteen answers, the button at the thumb after each', async () => {
    await pressOn(page, link(page, 'Clear the area'))
    for (const [title, said] of WALK) {
      await expect(page.getByRole('heading', { name: title, exact: true })).toBeVisible()
      await chooseRadio(page, page.getByRole('radio', { name: said, exact: true }))
      await pressOn(page, button(page, /^(Next:|Keep the answer)/))
    }
    await pressOn(page, button(page, 'The area is clear'))
    await expect.poll(() => stateOf(app, permit.id)).toBe('cleared')
  })

  await test.step('the air', async () => {
    const today = dayKeys(localDay(await at(0), site.zone))
    await visit(page, `/permits/${permit.id}/gas-test`)
    await typeInto(page, page.getByLabel('1. Oxygen'), '20.9')
    await typeInto(page, page.getByLabel('2. LEL'), '0')
    await typeInto(page, page.getByLabel('3. CO'), '0')
    await typeInto(page, page.getByLabel('Instrument'), 'GM-4')
    await typeInto(page, page.getByLabel('Bump tested on'), today)
    await typeInto(page, page.getByLabel('Calibrated until'), today)
    await pressOn(page, button(page, 'Keep the readings'))
    await arrive(page, /\/sign$/)
  })

  await test.step('three PINs; a wrong one leaves its box, and nothing else', async () => {
    const box = page.getByLabel(`PIN of ${team.operator.name}`)
    await typeInto(page, box, '135791')
    await pressOn(page, button(page, 'I agree'))
    await expect(page.getByRole('alert').filter({ hasText: 'Not signed.' })).toBeVisible()
    await expect(box).toHaveValue('')
    await sign(page, team.operator, 'I agree')
    await sign(page, team.fireWatch, 'I acknowledge')
    await chooseOption(page, page.getByLabel('PAI', { exact: true }), team.pai.id)
    const arrived = localClock(await at(-2), site.zone)
    await typeInto(page, page.getByLabel('When did the PAI come to the site?'), clockKeys(arrived))
    await typeInto(page, page.getByLabel('PIN of the PAI'), BUILT_PIN)
    await pressOn(page, button(page, 'Sign to issue'))
    await arrive(page, new RegExp(`/permits/${permit.id}$`))
    expect(await stateOf(app, permit.id)).toBe('open')
  })

  await test.step('held, looked at again, taken up again', async () => {
    await settled(page)
    await pressOn(page, link(page, 'Hold'))
    await tick(page, page.getByLabel('Torch is out'))
    await tick(page, page.getByLabel('Cylinder valves are shut'))
    await typeInto(page, page.getByLabel('Why'), 'Crane lift overhead')
    await pressOn(page, button(page, 'Hold'))
    await arrive(page, new RegExp(`/permits/${permit.id}$`))
    await pressOn(page, link(page, 'Go on'))
    await tick(page, page.getByLabel('It is as it was cleared'))
    await typeInto(page, page.getByLabel('What was looked at'), 'Bay, far side and below')
    await pressOn(page, button(page, 'Keep the look'))
    await expect(page.getByText(/^Looked at /)).toBeVisible()
    await chooseOption(page, page.getByLabel('PAI', { exact: true }), team.pai.id)
    await typeInto(page, page.getByLabel('PIN of the PAI'), BUILT_PIN)
    await pressOn(page, button(page, 'Go on'))
    await arrive(page, new RegExp(`/permits/${permit.id}$`))
    expect(await stateOf(app, permit.id)).toBe('open')
  })

  await test.step('the end of the work', async () => {
    await settled(page)
    await pressOn(page, link(page, 'Work is done'))
    await tick(page, page.getByLabel('Torch is out, for good'))
    await tick(page, page.getByLabel('Valves are shut, hoses bled'))
    await pressOn(page, button(page, 'Work is done'))
    await arrive(page, new RegExp(`/permits/${permit.id}/watch$`))
  })

  try {
    await test.step('the watch: a round when each opens', async () => {
      await signInAs(team.fireWatch.email)
      for (const round of [1, 2, 3, 4, 5]) {
        await afterTorchOut(app, permit.id, round * 10 - 1.9)
        await visit(page, `/permits/${permit.id}/watch`)
        await pressOn(page, link(page, `Walk round ${round}`))
        await expect(
          page.getByRole('heading', { name: new RegExp(`Round ${round} of`) }).first(),
        ).toBeVisible()
        for (const strip of await page.getByRole('radio', { name: 'Clear' }).all())
          await chooseRadio(page, strip)
        await pressOn(page, button(page, `Send round ${round}`))
        await arrive(page, new RegExp(`/permits/${permit.id}/watch$`))
      }
    })

    await test.step('the final look and two PINs close it', async () => {
      await signInAs(team.foreman.email)
      await afterTorchOut(app, permit.id, 61)
      await visit(page, `/permits/${permit.id}/close`)
      await expectAccessible()
      await typeInto(page, page.getByLabel('What did you find?'), 'Every post cold')
      await pressOn(page, button(page, 'Record the final look'))
      await expect(page.getByLabel('What did you find?')).toHaveCount(0)
      const watches = page.locator('form', { has: button(page, 'Sign off the watch') })
      await chooseOption(page, watches.getByLabel('Who stood the watch'), team.fireWatch.id)
      await typeInto(page, watches.getByLabel('PIN'), BUILT_PIN)
      await pressOn(page, button(page, 'Sign off the watch'))
      await expect(page.getByLabel('Who stood the watch')).toHaveCount(0)
      const closes = page.locator('form', { has: button(page, 'Close the permit') })
      await chooseOption(page, closes.getByLabel('PAI', { exact: true }), team.pai.id)
      await typeInto(page, closes.getByLabel('PIN'), BUILT_PIN)
      await pressOn(page, button(page, 'Close the permit'))
      await arrive(page, new RegExp(`/permits/${permit.id}/record$`))
      expect(await stateOf(app, permit.id)).toBe('closed')
    })
  } finally {
    await app.setClock(0)
  }
})

import type { Page } from '@playwright/test'
import { BUILT_PIN, type BuiltPerson } from '../../seed/builders/people'
import type { Worksite } from '../../seed/builders/permits'
import { addDays } from '../../seed/zones'
import { expect } from './fixtures'
import { arrive, visit } from './visit'

/** What the walk of a clean bay finds: the title of each point and what is said of it. */
export const WALK = [
  ['What changed since last time', 'Nobody has cut here before'],
  ['Inside the piece', 'Solid, nothing inside'],
  ['Coating', 'Bare'],
  ['Far side', 'Looked: nothing burns there'],
  ['Openings', 'None within 35 ft'],
  ['Floor', 'Does not burn, swept'],
  ['Walls and ceiling', 'Do not burn'],
  ['What burns nearer than 35 ft', 'Nothing'],
  ['Ducts and conveyors', 'None'],
  ['Stores, dust, painting', 'None'],
  ['The air', 'Nothing, ventilated'],
  ['Cylinders', 'Secured, out of reach of sparks'],
  ['Extinguisher', 'There and ready'],
  ['Others', 'Nobody can'],
  ['What the watch sees', 'One watch sees all'],
] as const

/** A little more than two cylinders of oxygen: with two on the site, a shortage is in sight. */
export const PIECES = 40
const JOB_DAYS = 10

const dayIn = (zone: string, at: Date) =>
  new Intl.DateTimeFormat('en-CA', { timeZone: zone }).format(at)

/** Plans a job and its cuts, looks where a number comes from, and keeps the estimate. */
export async function planJob(page: Page, { site }: Worksite, number: string): Promise<string> {
  const today = dayIn(site.zone, new Date())
  await visit(page, `/jobs/new?site=${site.id}`)
  await page.getByLabel('Job number').fill(number)
  await page.getByLabel('What is to be done').fill('Column stubs, bay 1')
  await page.getByLabel('First day').fill(today)
  await page.getByLabel('Last day').fill(addDays(today, JOB_DAYS - 1))
  await page.getByRole('button', { name: 'Plan this job' }).click()
  await arrive(page, /\/jobs\/[0-9a-f-]{36}$/)
  const address = page.url()

  await page.getByRole('link', { name: 'Add a cut' }).first().click()
  await page.getByLabel('Thickness').fill('1')
  await page.getByLabel('Length of one cut').fill('6')
  await page.getByLabel('How many cuts').fill(String(PIECES))
  await page.getByLabel('What is on it').selectOption({ label: 'Bare or mill scale' })
  await page.getByRole('button', { name: 'Add a cut' }).click()
  await arrive(page, address)
  return address
}

export async function openNumbers(page: Page): Promise<void> {
  const number = page.getByRole('button', { name: /show where it comes from/ }).first()
  await number.click()
  await expect(page.getByText(/from memory/i).first()).toBeVisible()
  await number.click()
  await page.getByRole('button', { name: 'Keep this estimate' }).click()
  await expect(page.getByText('Kept.', { exact: true })).toBeVisible()
}

/** From the job's page to a permit in preparation. */
export async function preparePermit(page: Page, { team, outfit, site }: Worksite): Promise<string> {
  await page.getByRole('link', { name: 'New permit' }).first().click()
  await page.getByRole('radio', { name: 'Neither' }).check()
  await page.getByLabel('Why neither').fill('No saw reaches the stubs.')
  await page.getByLabel('What is cut').fill('Column stubs')
  await page.getByLabel('Area', { exact: true }).selectOption({ label: site.area.name })
  await page.getByLabel('Where in it').fill('Bay 1, grid C')
  await page.getByLabel('Outfit', { exact: true }).selectOption({ value: outfit.id })
  await page.getByLabel('Who cuts').selectOption({ value: team.operator.id })
  await page.getByLabel('Who watches').selectOption({ value: team.fireWatch.id })
  await page.getByLabel('What is inside the piece, or was').fill('Solid')
  await page.getByLabel('What is behind it').fill('Open air')
  await page.getByRole('button', { name: 'Prepare', exact: true }).click()
  await arrive(page, /\/permits\/[0-9a-f-]{36}/)
  return page.url().match(/permits\/([0-9a-f-]{36})/)?.[1] ?? ''
}

export async function walkClearance(page: Page, permitId: string): Promise<void> {
  await visit(page, `/permits/${permitId}/clearance`)
  for (const [title, said] of WALK) {
    await expect(page.getByRole('heading', { name: title, exact: true })).toBeVisible()
    await page.getByRole('radio', { name: said, exact: true }).check()
    await page.getByRole('button', { name: /^(Next:|Keep the answer)/ }).click()
  }
  await page.getByRole('button', { name: 'The area is clear' }).click()
}

export async function takeGasTest(page: Page, permitId: string, zone: string): Promise<void> {
  const today = dayIn(zone, new Date())
  await visit(page, `/permits/${permitId}/gas-test`)
  await page.getByLabel('1. Oxygen').fill('20.9')
  await page.getByLabel('2. LEL').fill('0')
  await page.getByLabel('3. CO').fill('0')
  await page.getByLabel('Instrument').fill('GM-4')
  await page.getByLabel('Bump tested on').fill(today)
  await page.getByLabel('Calibrated until').fill(today)
  await page.getByRole('button', { name: 'Keep the readings' }).click()
  await arrive(page, /\/sign$/)
}

async function signAs(page: Page, person: BuiltPerson, press: string): Promise<void> {
  await expect(page.getByText(`Hand the phone to ${person.name}.`)).toBeVisible()
  await page.getByLabel(`PIN of ${person.name}`).fill(BUILT_PIN)
  await page.getByRole('button', { name: press }).click()
}

/** Operator, fire watch, PAI: three PINs on one phone, the PAI's last. */
export async function signThree(page: Page, { team }: Worksite, arrived: string): Promise<void> {
  await signAs(page, team.operator, 'I agree')
  await signAs(page, team.fireWatch, 'I acknowledge')
  await page.getByLabel('PAI', { exact: true }).selectOption({ value: team.pai.id })
  await page.getByLabel('When did the PAI come to the site?').fill(arrived)
  await page.getByLabel('PIN of the PAI').fill(BUILT_PIN)
  await page.getByRole('button', { name: 'Sign to issue' }).click()
}

import type { BrowserContext, Page, Request } from '@playwright/test'
import { BUILT_PIN } from '../../seed/builders/people'
import type { Worksite } from '../../seed/builders/permits'
import { expect } from './fixtures'
import { arrive, visit } from './visit'

/** Logs pieces of the first cut; returns when it stands on the permit. */
export async function logPieces(page: Page, permitId: string, pieces: number): Promise<void> {
  await visit(page, `/permits/${permitId}/log`)
  await page.getByLabel('Pieces done').fill(String(pieces))
  await page.getByRole('button', { name: 'Keep it in the log' }).click()
  await arrive(page, new RegExp(`/permits/${permitId}$`))
}

/**
 * The cylinder in use comes off with its reading, another goes on: one act, though the button is
 * pressed twice. Returns what the browser sent, for sending it once more.
 */
export async function swapOxygen(
  page: Page,
  permitId: string,
  { psi, onSerial }: Readonly<{ psi: number; onSerial: string }>,
): Promise<Request> {
  await visit(page, `/permits/${permitId}/swap?side=oxygen`)
  await page.getByLabel('Gauge').fill(String(psi))
  await page.getByLabel('At', { exact: true }).fill('70')
  await page.getByLabel('Serial on the cylinder').fill(onSerial)
  await page.getByLabel('Valve shut, regulator and hose bled').check()
  await page.getByLabel('Joints soaped after putting on: no leak').check()
  const sending = page.waitForRequest((request) => request.headers()['next-action'] !== undefined)
  await page.getByRole('button', { name: /^Swap / }).dblclick()
  const sent = await sending
  await arrive(page, new RegExp(`/permits/${permitId}$`))
  return sent
}

/** The same call of an action again, with the same key, as whoever this browser is signed in as. */
export async function sendAgain(sent: Request, by: BrowserContext): Promise<string> {
  const { cookie: _cookie, ...headers } = await sent.allHeaders()
  const response = await by.request.post(sent.url(), {
    headers: Object.fromEntries(Object.entries(headers).filter(([name]) => !name.startsWith(':'))),
    data: sent.postDataBuffer() ?? '',
    maxRedirects: 0,
  })
  return response.text()
}

export async function holdAndGoOn(page: Page, permitId: string, { team }: Worksite): Promise<void> {
  await visit(page, `/permits/${permitId}/hold`)
  await page.getByLabel('Torch is out').check()
  await page.getByLabel('Cylinder valves are shut').check()
  await page.getByLabel('Why').fill('Crane lift overhead')
  await page.getByRole('button', { name: 'Hold', exact: true }).click()
  await arrive(page, new RegExp(`/permits/${permitId}$`))
  await expect(page.getByText('Crane lift overhead')).toBeVisible()

  await visit(page, `/permits/${permitId}/resume`)
  await page.getByLabel('It is as it was cleared').check()
  await page.getByLabel('What was looked at').fill('Bay, far side and below')
  await page.getByRole('button', { name: 'Keep the look' }).click()
  await expect(page.getByText(/^Looked at /)).toBeVisible()
  await page.getByLabel('PAI', { exact: true }).selectOption({ value: team.pai.id })
  await page.getByLabel('PIN of the PAI').fill(BUILT_PIN)
  await page.getByRole('button', { name: 'Go on' }).click()
  await arrive(page, new RegExp(`/permits/${permitId}$`))
}

export async function endWork(page: Page, permitId: string): Promise<void> {
  await visit(page, `/permits/${permitId}/end`)
  await page.getByLabel('Torch is out, for good').check()
  await page.getByLabel('Valves are shut, hoses bled').check()
  await page.getByRole('button', { name: 'Work is done' }).click()
  await arrive(page, new RegExp(`/permits/${permitId}/watch$`))
}

/** Walks the open round: every post is answered before it can be sent. */
export async function walkRound(page: Page, permitId: string, number: number): Promise<void> {
  await visit(page, `/permits/${permitId}/watch`)
  await page.getByRole('link', { name: `Walk round ${number}`, exact: true }).click()
  await expect(
    page.getByRole('heading', { name: new RegExp(`Round ${number} of`) }).first(),
  ).toBeVisible()
  for (const strip of await page.getByRole('radio', { name: 'Clear' }).all()) await strip.check()
  await page.getByRole('button', { name: `Send round ${number}` }).click()
  await arrive(page, new RegExp(`/permits/${permitId}/watch$`))
}

/** The watch signs off, the PAI closes: each their own PIN. */
export async function closePermit(page: Page, permitId: string, { team }: Worksite): Promise<void> {
  await visit(page, `/permits/${permitId}/close`)
  await page.getByLabel('What did you find?').fill('Every post cold. Nothing smolders.')
  await page.getByRole('button', { name: 'Record the final look' }).click()
  await expect(page.getByLabel('What did you find?')).toHaveCount(0)
  await signOff(page, team.fireWatch.id)
  await pressClose(page, team.pai.id)
  await arrive(page, new RegExp(`/permits/${permitId}/record$`))
}

async function signOff(page: Page, personId: string): Promise<void> {
  await page.getByLabel('Who stood the watch').selectOption({ value: personId })
  const form = page.locator('form', {
    has: page.getByRole('button', { name: 'Sign off the watch' }),
  })
  await form.getByLabel('PIN').fill(BUILT_PIN)
  await form.getByRole('button', { name: 'Sign off the watch' }).click()
  await expect(page.getByLabel('Who stood the watch')).toHaveCount(0)
}

/** What the PAI presses at the end; on its own it shows every reason why it is too early. */
export async function pressClose(page: Page, personId: string): Promise<void> {
  const form = page.locator('form', { has: page.getByRole('button', { name: 'Close the permit' }) })
  await form.getByLabel('PAI', { exact: true }).selectOption({ value: personId })
  await form.getByLabel('PIN').fill(BUILT_PIN)
  await form.getByRole('button', { name: 'Close the permit' }).click()
}

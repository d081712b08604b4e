import { DEMO_PASSWORD, DEMO_SIGN_INS } from '../../seed/demo/sign-ins'
import { expect, test } from './fixtures'
import { visit } from './visit'

const foreman = DEMO_SIGN_INS.find((person) => person.role === 'foreman')
if (!foreman) throw new Error('the demo has no foreman')

test('a foreman signs in with e-mail and password and is led back to where they were going', async ({
  page,
  expectAccessible,
}) => {
  await visit(page, '/sign-out')
  await expect(page).toHaveURL(/\/sign-in\?next=%2Fsign-out$/)
  await visit(page, '/sign-in?next=%2Fapi%2Fhealth')
  await expect(page.getByRole('heading', { name: 'This is a demo' })).toBeVisible()
  await expectAccessible()

  await page.getByLabel('E-mail').fill(foreman.email)
  await page.getByLabel('Password').fill(DEMO_PASSWORD)
  await page.getByRole('button', { name: 'Sign in', exact: true }).click()
  await page.waitForURL('**/api/health')

  await visit(page, '/sign-out')
  await expect(page.getByText(`Signed in as ${foreman.name}.`)).toBeVisible()
  await expectAccessible()
  await page.getByRole('button', { name: 'Sign out' }).click()
  await page.waitForURL('**/sign-in')
  await visit(page, '/sign-out')
  await expect(page).toHaveURL(/\/sign-in/)
})

test('a wrong password is refused in one sentence, and the e-mail stays typed', async ({
  page,
}) => {
  await visit(page, '/sign-in')
  await page.getByLabel('E-mail').fill(foreman.email)
  await page.getByLabel('Password').fill('not this')
  await page.getByRole('button', { name: 'Sign in', exact: true }).click()
  await expect(page.getByText('No one here has this e-mail and password together.')).toBeVisible()
  await expect(page.getByLabel('E-mail')).toHaveValue(foreman.email)
})

test('a session ends when the person is disabled', async ({ app, page, signInAs }) => {
  const last = DEMO_SIGN_INS.find((person) => person.role === 'fire_watch')
  if (!last) throw new Error('the demo has no fire watch')
  await signInAs(last.email)
  await visit(page, '/sign-out')
  await expect(page.getByText(`Signed in as ${last.name}.`)).toBeVisible()
  const setDisabled = async (at: string) => {
    const client = await app.owner.connect()
    await client.query(
      `BEGIN; SELECT set_config('kerf.actor_role', 'system', true), set_config('kerf.act', 'test', true)`,
    )
    await client.query(`UPDATE people SET disabled_at = ${at} WHERE email = $1`, [last.email])
    await client.query('COMMIT')
    client.release()
  }
  await setDisabled('kerf_now()')
  await visit(page, '/sign-out')
  await expect(page).toHaveURL(/\/sign-in/)
  await setDisabled('NULL') // other tests sign in as the same person
})

test('every answer carries the policy and the other security headers', async ({ request }) => {
  const response = await request.get('/sign-in')
  const headers = response.headers()
  const nonce = /'nonce-([^']+)'/.exec(headers['content-security-policy'] ?? '')?.[1]
  expect(nonce).toBeTruthy()
  expect(headers).toMatchObject({
    'x-content-type-options': 'nosniff',
    'x-frame-options': 'DENY',
    'referrer-policy': 'strict-origin-when-cross-origin',
    'cross-origin-opener-policy': 'same-origin',
    'permissions-policy': expect.stringContaining('camera=(self)'),
    'x-request-id': expect.any(String),
  })
  expect(headers).not.toHaveProperty('x-powered-by')
  expect(headers).not.toHaveProperty('strict-transport-security') // plain http here
  const scripts = (await response.text()).match(/<script[^>]*>/g) ?? []
  expect(scripts.length).toBeGreaterThan(0)
  expect(scripts.filter((tag) => !tag.includes(`nonce="${nonce}"`))).toEqual([])
  const second = await request.get('/sign-in')
  expect(second.headers()['content-security-policy']).not.toContain(nonce)
})

test('health answers from the process, readiness from the database and its clock', async ({
  app,
  request,
}) => {
  expect((await request.get('/api/health')).status()).toBe(200)
  expect(await (await request.get('/api/ready')).json()).toMatchObject({ ok: true })
  await app.setClock(60_000)
  const moved = await request.get('/api/ready')
  await app.setClock(0)
  expect(moved.status()).toBe(503)
  expect(await moved.json()).toMatchObject({ ok: false, clock: false })
})

import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import path from 'node:path'
import type { APIRequestContext } from '@playwright/test'
import { type Action, ROLES, roleCan } from '../../lib/access/access'
import { ACTION_TABLE, type ActionRow, type Fields, TOLD_ELSEWHERE } from '../access/table'
import { buildScene, type Scene } from '../access/world'
import { expect, test } from './fixtures'

const ROOT = path.resolve(import.meta.dirname, '../..')
const readBuilt = (name: string) => JSON.parse(readFileSync(path.join(ROOT, '.next', name), 'utf8'))

/** Every server action of the production build, by name: what a browser sends to call it. */
function actionIds(): ReadonlyMap<string, string> {
  const { node } = readBuilt('server/server-reference-manifest.json') as {
    node: Record<string, { exportedName: string }>
  }
  return new Map(Object.entries(node).map(([id, { exportedName }]) => [exportedName, id]))
}

/** The arguments (previous, FormData) as React's client writes them. */
function encodedArguments(fields: Fields): FormData {
  const body = new FormData()
  for (const [name, value] of Object.entries({ key: randomUUID(), ...fields })) {
    for (const one of [value].flat()) body.append(`_1_${name}`, one as string)
  }
  body.append('0', '[null,"$K1"]')
  return body
}

interface Answer {
  isDone: boolean
  code: string
}

/** Calls an action as a browser would; a redirect to anywhere but the sign-in page is success. */
async function call(
  url: string,
  {
    cookie,
    row,
    id,
    scene,
    fields,
  }: Readonly<{ cookie: string; row: ActionRow; id: string; scene: Scene; fields: Fields }>,
): Promise<Answer> {
  const response = await fetch(`${url}${row.path(scene)}`, {
    method: 'POST',
    redirect: 'manual',
    headers: {
      'next-action': id,
      accept: 'text/x-component',
      origin: url,
      ...(cookie ? { cookie } : {}),
    },
    body: encodedArguments(fields),
  })
  const target = response.headers.get('x-action-redirect') ?? response.headers.get('location')
  const text = await response.text()
  if (target?.includes('/sign-in')) return { isDone: false, code: 'SIGNED_OUT' }
  if (target) return { isDone: true, code: '' }
  const code = /"ok":false,"code":"([A-Z_]+)"/.exec(text)?.[1]
  return { isDone: text.includes('"ok":true'), code: code ?? `HTTP ${response.status}` }
}

test('every server action of the build has a row, and every row an action', () => {
  const built = [...actionIds().keys()].sort()
  expect([...Object.keys(ACTION_TABLE), ...TOLD_ELSEWHERE].sort()).toEqual(built)
})

const cookieOf = ({ name, value }: { name: string; value: string }) => `${name}=${value}`
const mayRole = (role: (typeof ROLES)[number], needs: Action | 'own') =>
  needs === 'own' || roleCan(role, needs)

for (const [name, row] of Object.entries(ACTION_TABLE)) {
  test(`${name} is open to those who may (${row.needs}), at their own site, and to nobody else`, async ({
    app,
  }) => {
    const id = actionIds().get(name) ?? ''
    const scene = await buildScene(app.owner, row.stage ?? null)
    const fields = await row.input(scene)
    const asPerson = async (email: string) =>
      call(app.url, { cookie: cookieOf(await app.sessionCookie(email)), row, id, scene, fields })
    const entries = () =>
      scene.read<string>('SELECT count(*) FROM audit_entries WHERE chain = $1', [scene.site.id])
    const before = await entries()

    expect(await call(app.url, { cookie: '', row, id, scene, fields })).toEqual({
      isDone: false,
      code: 'SIGNED_OUT',
    })
    if (row.needs !== 'own') {
      expect((await asPerson(scene.stranger.email)).code).toMatch(/^(NOT_FOUND|FORBIDDEN)$/)
      for (const role of ROLES.filter((one) => !mayRole(one, row.needs)))
        expect({ role, ...(await asPerson(scene.people[role].email)) }).toEqual({
          role,
          isDone: false,
          code: 'FORBIDDEN',
        })
      expect(await entries()).toBe(before)
    }

    const entitled = ROLES.filter((one) => mayRole(one, row.needs))
    const answers = []
    for (const role of entitled)
      answers.push({ role, ...(await asPerson(scene.people[role].email)) })
    expect(
      answers.filter((answer) => answer.isDone).length,
      JSON.stringify(answers),
    ).toBeGreaterThan(0)
    expect(answers.filter((answer) => answer.code === 'FORBIDDEN')).toEqual([])
  })
}

test('the actions whose story is told elsewhere are shut without a session', async ({ app }) => {
  const scene = await buildScene(app.owner, null)
  const ids = actionIds()
  for (const name of TOLD_ELSEWHERE) {
    const row: ActionRow = { needs: 'own', path: () => '/me', input: () => ({}) }
    const answer = await call(app.url, {
      cookie: '',
      row,
      id: ids.get(name) ?? '',
      scene,
      fields: {},
    })
    expect({ name, ...answer }).toEqual({ name, isDone: false, code: 'SIGNED_OUT' })
  }
})

const IS_POST = /^\/api\/.*\/(stop|round|smoke)$/

/** Pages and routes that need nobody signed in. */
const OPEN_PATHS = new Set([
  '/sign-in',
  '/s/[code]',
  '/api/auth/[...nextauth]',
  '/api/health',
  '/api/ready',
  '/api/s/[code]/stop',
  '/icon.svg',
  '/_not-found',
  '/_global-error',
])

function addressesOf(scene: Scene): Readonly<Record<string, string>> {
  const permit = scene.permit?.permit.id ?? ''
  return {
    '[permitId]': permit,
    '[jobId]': scene.job.id,
    '[cylinderId]': scene.spare.id,
    '[code]': scene.permit?.permit.stopCode ?? '',
  }
}

const builtPaths = () =>
  [
    ...new Set(Object.values(readBuilt('app-path-routes-manifest.json') as Record<string, string>)),
  ].sort()

const fill = (route: string, scene: Scene) =>
  route.replace(/\[[^\]]+\]/g, (part) => addressesOf(scene)[part] ?? 'unknown')

async function statusOf(request: APIRequestContext, url: string, method: 'GET' | 'POST') {
  const response = await request.fetch(url, {
    method,
    maxRedirects: 0,
    ...(method === 'POST' ? { data: {} } : {}),
  })
  return { status: response.status(), location: response.headers().location ?? '' }
}

test('no page and no route answers without a session but the few that must', async ({
  app,
  request,
}) => {
  const scene = await buildScene(app.owner, 'open')
  for (const route of builtPaths().filter((one) => !OPEN_PATHS.has(one))) {
    const isPost = IS_POST.test(route)
    const { status, location } = await statusOf(
      request,
      `${app.url}${fill(route, scene)}`,
      isPost ? 'POST' : 'GET',
    )
    const isShut =
      [401, 403, 404].includes(status) ||
      (status >= 300 && status < 400 && location.includes('/sign-in'))
    expect({ route, status, location, isShut }).toMatchObject({ isShut: true })
  }
})

test('somebody of another site finds none of this site’s pages', async ({ app, openAs }) => {
  const scene = await buildScene(app.owner, 'open')
  const context = await openAs(scene.stranger.email)
  const found: string[] = []
  for (const route of builtPaths().filter((one) => /\[(permitId|jobId|cylinderId)\]/.test(one))) {
    const isPost = IS_POST.test(route)
    const response = isPost
      ? await context.request.post(fill(route, scene), {
          headers: { origin: app.url },
          data: { key: randomUUID(), step: 'hold', posts: [] },
        })
      : await context.request.get(fill(route, scene))
    const text = await response.text()
    // A page that has begun to stream says so inside it.
    const isMissing = response.status() === 404 || (!isPost && text.includes('404'))
    if (!isMissing || text.includes(scene.site.name)) found.push(`${route} ${response.status()}`)
  }
  expect(found).toEqual([])
})

test('everyone may stop work, the auditor too, and by the posted code without signing in', async ({
  app,
  openAs,
  request,
}) => {
  for (const role of ROLES) {
    const scene = await buildScene(app.owner, 'open')
    const context = await openAs(scene.people[role].email)
    const response = await context.request.post(`/api/permits/${scene.permit?.permit.id}/stop`, {
      headers: { origin: app.url },
      data: { key: randomUUID(), step: 'hold', deviceAt: '' },
    })
    expect({ role, status: response.status() }).toEqual({ role, status: 200 })
  }
  const scene = await buildScene(app.owner, 'open')
  const posted = await request.post(`${app.url}/api/s/${scene.permit?.permit.stopCode}/stop`, {
    headers: { origin: app.url },
    data: { step: 'hold' },
  })
  expect(posted.status()).toBe(200)
})

import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import path from 'node:path'
import type { TestApp } from '../e2e/app'
import type { ActionRow, Fields } from './row'
import type { Scene } from './world'

const ROOT = path.resolve(import.meta.dirname, '../..')

export const readBuilt = (name: string) =>
  JSON.parse(readFileSync(path.join(ROOT, '.next', name), 'utf8'))

/** Every server action of the production build, by name: what a browser sends to call it. */
export function actionIds(): ReadonlyMap<string, string> {
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

const cookies = new Map<string, Promise<string>>()

/** The cookie of this person's session; none for nobody. */
export async function cookieOf(app: TestApp, email: string | null): Promise<string> {
  if (email === null) return ''
  const known =
    cookies.get(email) ?? app.sessionCookie(email).then(({ name, value }) => `${name}=${value}`)
  cookies.set(email, known)
  return known
}

/** For somebody whose sessions have ended: the next call signs them in anew. */
export const forgetCookie = (email: string | null) => email !== null && cookies.delete(email)

interface Answer {
  isDone: boolean
  code: string
}

export interface Call {
  /** Who sends it; null is nobody. */
  email: string | null
  name: string
  row: ActionRow
  scene: Scene
  fields: Fields
}

/** Calls an action as a browser would; a redirect to anywhere but the sign-in page is success. */
export async function call(
  app: TestApp,
  { email, name, row, scene, fields }: Call,
): Promise<Answer> {
  const cookie = await cookieOf(app, email)
  const response = await fetch(`${app.url}${await row.path(scene)}`, {
    method: 'POST',
    redirect: 'manual',
    headers: {
      'next-action': actionIds().get(name) ?? '',
      accept: 'text/x-component',
      origin: app.url,
      ...(cookie ? { cookie } : {}),
    },
    body: encodedArguments(fields),
  })
  const target = response.headers.get('x-action-redirect') ?? response.headers.get('location')
  const text = await response.text()
  if (target?.includes('/sign-in')) return { isDone: false, code: 'SIGNED_OUT' }
  if (target) return { isDone: true, code: '' }
  const code = /"ok":false,"code":"([A-Z_]+)"/.exec(text)?.[1]
  if (text.includes('"ok":true')) return { isDone: true, code: '' }
  const reasons = [...text.matchAll(/\{"code":"([A-Za-z_]+)"/g)].map((match) => match[1])
  return { isDone: false, code: [code ?? `HTTP ${response.status}`, ...reasons].join(' ') }
}

import { type Action, ROLES, type Role, roleCan } from '../../lib/access/access'
import { buildSite } from '../../seed/builders/sites'
import { OTHERS_THINGS } from '../access/others-things'
import type { ActionRow, Fields } from '../access/row'
import { actionIds, type Call, call, forgetCookie } from '../access/send'
import { ACTION_TABLE } from '../access/table'
import { buildScene, buildScenes, type Scene } from '../access/world'
import type { TestApp } from './app'
import { appOfItsOwn as test } from './app-of-its-own'
import { expect } from './fixtures'

const mayRole = (role: Role, needs: Action | 'own') => needs === 'own' || roleCan(role, needs)
const rolesThat = (needs: Action | 'own', may: boolean) =>
  ROLES.filter((role) => mayRole(role, needs) === may)

/** What these people have ever changed, by the record itself. */
async function changesBy(scene: Scene, personIds: readonly string[]): Promise<string> {
  return scene.read('SELECT count(*) FROM audit_entries WHERE actor_id = ANY($1)', [personIds])
}

interface Walk {
  app: TestApp
  name: string
  row: ActionRow
}

/** One valid input, sent by everybody who may not: nobody, strangers, and every other role. */
async function walkRefused({ app, name, row }: Walk, scene: Scene, fields: Fields): Promise<void> {
  const owner = scene.people[rolesThat(row.needs, true)[0] ?? 'foreman']
  const send = (email: string | null) => call(app, { email, name, row, scene, fields })
  expect(await send(null)).toEqual({ isDone: false, code: 'SIGNED_OUT' })
  if (row.needs === 'own' && !row.namesOwner) return

  const others = row.namesOwner
    ? ROLES.filter((role) => scene.people[role] !== owner)
    : rolesThat(row.needs, false)
  const strangers = [scene.stranger, scene.guest]
  const refused = [...strangers, ...others.map((role) => scene.people[role])].map(({ id }) => id)
  const before = await changesBy(scene, refused)
  for (const { email } of strangers)
    expect((await send(email)).code).toMatch(/^(NOT_FOUND|FORBIDDEN)$/)
  const code = row.namesOwner ? 'NOT_FOUND' : 'FORBIDDEN'
  for (const role of others)
    expect({ role, ...(await send(scene.people[role].email)) }).toEqual({
      role,
      isDone: false,
      code,
    })
  expect(await changesBy(scene, refused)).toBe(before)
}

/** Everybody who may does it, each in a scene of their own, and succeeds; the first with what was refused to the others. */
async function walkEntitled(
  { app, name, row }: Walk,
  scenes: readonly Scene[],
  refused: Fields,
): Promise<void> {
  const calls: (Call & { role: Role })[] = []
  for (const [i, role] of rolesThat(row.needs, true).entries()) {
    const scene = scenes[i]
    if (!scene) throw new Error(`no scene for the ${role}`)
    const person = scene.people[role]
    const fields = i === 0 ? refused : await row.input(scene, person)
    calls.push({ role, email: person.email, name, row, scene, fields })
  }
  const answers = await Promise.all(
    calls.map(async (one) => ({ role: one.role, ...(await call(app, one)) })),
  )
  if (row.endsSession) for (const { email } of calls) forgetCookie(email)
  expect(answers).toEqual(answers.map(({ role }) => ({ role, isDone: true, code: '' })))
}

test('every server action of the build has a row, and every row an action', () => {
  expect(Object.keys(ACTION_TABLE).sort()).toEqual([...actionIds().keys()].sort())
})

for (const [name, row] of Object.entries(ACTION_TABLE)) {
  test(`${name} is done for all who may (${row.needs}) at their own site, and for nobody else`, async ({
    app,
  }) => {
    const count = rolesThat(row.needs, true).length
    const scenes = await buildScenes(app, { stage: row.stage ?? null, count })
    const [first] = scenes
    const [firstRole] = rolesThat(row.needs, true)
    if (!first || !firstRole) throw new Error('nobody may do it')
    const fields = await row.input(first, first.people[firstRole])
    await walkRefused({ app, name, row }, first, fields)
    await walkEntitled({ app, name, row }, scenes, fields)
  })
}

for (const [name, field, value] of OTHERS_THINGS) {
  test(`${name} refuses another site’s ${field}`, async ({ app }) => {
    const row = ACTION_TABLE[name]
    const [role] = row ? rolesThat(row.needs, true) : []
    if (!row || !role) throw new Error(`nobody may do ${name}`)
    const scene = await buildScene(app, row.stage ?? null)
    const [other] = await buildScenes(app, { stage: null, site: await buildSite(app.owner) })
    if (!other) throw new Error('no other site was built')
    const person = scene.people[role]
    const fields = { ...(await row.input(scene, person)), [field]: await value(other) }
    const before = await changesBy(scene, [person.id])
    const answer = await call(app, { email: person.email, name, row, scene, fields })
    expect(answer).toMatchObject({ isDone: false })
    expect(answer.code).not.toMatch(/HTTP|INVALID_INPUT/)
    expect(await changesBy(scene, [person.id])).toBe(before)
  })
}

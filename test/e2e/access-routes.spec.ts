import { ROLES, type Role, roleCan } from '../../lib/access/access'
import { BUILT_IN, ROUTE_TABLE, type RouteRow } from '../access/routes'
import { readBuilt } from '../access/send'
import type { PermitStage } from '../access/stages'
import { see } from '../access/visit'
import { buildScenes, type Scene } from '../access/world'
import type { TestApp } from './app'
import { appOfItsOwn as test } from './app-of-its-own'
import { expect } from './fixtures'

const builtPaths = () =>
  Object.values(readBuilt('app-path-routes-manifest.json') as Record<string, string>)

const mayRole = (role: Role, { needs }: RouteRow) =>
  needs === 'open' || needs === 'signed-in' || roleCan(role, needs)

/** Words by which anything of this site is known when it shows where it must not. */
async function wordsOf(scene: Scene): Promise<string[]> {
  const { site, job, outfit, spare, team, owner } = scene
  const { rows } = await owner.query<{ name: string }>(
    'SELECT name FROM crews WHERE site_id = $1',
    [site.id],
  )
  return [
    site.name,
    job.number,
    outfit.number,
    spare.serial,
    ...Object.values(team).map((person) => person.name),
    ...rows.map((crew) => crew.name),
  ]
}

async function expectNoWordOf(scene: Scene, text: string): Promise<void> {
  expect((await wordsOf(scene)).filter((word) => text.includes(word))).toEqual([])
}

const kept = new Map<string, Promise<Scene>>()

/** Reading changes nothing: one scene serves every page at its stage. */
async function sceneAt(app: TestApp, stage: PermitStage | null): Promise<Scene> {
  const built = kept.get(`${stage}`) ?? buildScenes(app, { stage }).then((all) => all[0] as Scene)
  kept.set(`${stage}`, built)
  return built
}

test('every page and route of the build has a row, and every row a page or a route', () => {
  const rows = [...Object.keys(ROUTE_TABLE), ...BUILT_IN].sort()
  expect(rows).toEqual([...new Set(builtPaths())].sort())
})

// First of all that is asked: once the clock has been moved, /api/ready says so.
test('what is open without a session answers, and the posted code stops the work', async ({
  app,
}) => {
  const [scene] = await buildScenes(app, { stage: 'open' })
  if (!scene) throw new Error('no scene was built')
  for (const [route, row] of Object.entries(ROUTE_TABLE)) {
    if (row.needs !== 'open') continue
    const { outcome } = await see(app, await row.path(scene), {
      email: null,
      post: row.post?.(scene),
    })
    expect({ route, outcome }).toEqual({ route, outcome: 'shown' })
  }
  const { permit, read } = scene
  expect(await read('SELECT state FROM permits WHERE id = $1', [permit?.permit.id])).toBe('held')
})

const isPage = ([, row]: [string, RouteRow]) => row.post === undefined && row.needs !== 'open'

for (const [route, row] of Object.entries(ROUTE_TABLE).filter(isPage)) {
  test(`${route} is shown to all who may (${row.needs}) at their own site, and to nobody else`, async ({
    app,
  }) => {
    const scene = await sceneAt(app, row.stage ?? null)
    const path = await row.path(scene)
    const ask = (email: string | null, at = path) => see(app, at, { email })
    expect((await ask(null)).outcome).toBe('signed out')

    const seen = await Promise.all(
      ROLES.map(async (role) => ({ role, ...(await ask(scene.people[role].email)) })),
    )
    const refused = route.startsWith('/api/') ? 'forbidden' : 'missing'
    expect(seen.map(({ role, outcome }) => ({ role, outcome }))).toEqual(
      ROLES.map((role) => ({ role, outcome: mayRole(role, row) ? 'shown' : refused })),
    )
    for (const { outcome, text } of seen) if (outcome !== 'shown') await expectNoWordOf(scene, text)

    const strange = await ask(scene.stranger.email)
    expect(strange.outcome).toBe(row.isOfAllSites ? 'shown' : 'missing')
    await expectNoWordOf(scene, strange.text)
    if (row.isOfAllSites) return
    const guested = await ask(scene.guest.email)
    expect(guested.outcome).toBe(mayRole('auditor', row) ? 'shown' : refused)
    const [bare] = path.split('?')
    if (bare !== path) await expectNoWordOf(scene, (await ask(scene.stranger.email, bare)).text)
  })
}

const isChange = ([, row]: [string, RouteRow]) => row.post !== undefined && row.needs !== 'open'

for (const [route, row] of Object.entries(ROUTE_TABLE).filter(isChange)) {
  test(`${route} is done for all who may (${row.needs}) at their own site, and for nobody else`, async ({
    app,
  }) => {
    const may = ROLES.filter((role) => mayRole(role, row))
    const scenes = await buildScenes(app, {
      stage: row.stage ?? null,
      ...(row.isByWatch ? { watchers: may } : { count: may.length }),
    })
    const [first] = scenes
    if (!first) throw new Error('nobody may do it')
    const send = async (scene: Scene, email: string | null) =>
      see(app, await row.path(scene), { email, post: row.post?.(scene) })

    const stateOf = () =>
      first.read('SELECT last_event_seq FROM permits WHERE id = $1', [first.permit?.permit.id])
    const before = await stateOf()
    expect((await send(first, null)).outcome).toBe('signed out')
    const strange = await send(first, first.stranger.email)
    expect(strange.outcome).toBe('missing')
    await expectNoWordOf(first, strange.text)
    for (const role of ROLES.filter((one) => !may.includes(one)))
      expect((await send(first, first.people[role].email)).outcome).toBe('forbidden')
    if (!mayRole('auditor', row))
      expect((await send(first, first.guest.email)).outcome).toBe('forbidden')
    expect(await stateOf()).toBe(before)

    const done = await Promise.all(
      scenes.map(async (scene, i) => {
        const role = may[i] ?? 'foreman'
        return { role, ...(await send(scene, scene.people[role].email)) }
      }),
    )
    expect(done.map(({ role, outcome }) => ({ role, outcome }))).toEqual(
      may.map((role) => ({ role, outcome: 'shown' })),
    )
  })
}

import {
  type BuiltPermit,
  buildAnsweredPermit,
  buildClearedPermit,
  buildHeldPermit,
  buildOpenPermit,
  buildPreparedPermit,
  buildSignedPermit,
  buildWatchPermit,
  type Worksite,
} from '../../seed/builders/permits'
import {
  addFinalLook,
  addNewLook,
  addRound,
  addWatchSignature,
  pressStop,
} from '../../seed/builders/permits-later'
import type { TestApp } from '../e2e/app'

type Owner = TestApp['owner']
type Build = (owner: Owner, worksite: Worksite) => Promise<BuiltPermit>

/** What every permit built here had put out of service. */
export const IMPAIRMENT = { id: 'zone-2', label: 'Sprinkler zone 2' }

async function after(
  owner: Owner,
  building: Promise<BuiltPermit>,
  step: Step,
): Promise<BuiltPermit> {
  const built = await building
  await step(owner, built)
  return built
}

const BUILD = {
  prepared: (owner, worksite) => buildPreparedPermit(owner, { worksite }),
  answered: (owner, worksite) => buildAnsweredPermit(owner, { worksite }),
  cleared: (owner, worksite) => buildClearedPermit(owner, { worksite }),
  signed: (owner, worksite) => buildSignedPermit(owner, { worksite }),
  open: (owner, worksite) => buildOpenPermit(owner, { worksite }),
  impaired: (owner, worksite) => buildOpenPermit(owner, { worksite, impairments: [IMPAIRMENT] }),
  pressed: (owner, worksite) => after(owner, buildOpenPermit(owner, { worksite }), pressStop),
  held: (owner, worksite) => buildHeldPermit(owner, { worksite }),
  heldAndLooked: (owner, worksite) =>
    after(owner, buildHeldPermit(owner, { worksite }), addNewLook),
  watch: (owner, worksite) => buildWatchPermit(owner, { worksite }),
  watchInFull: (owner, worksite) => buildWatchPermit(owner, { worksite, isStatementAsked: true }),
  watchToSurvey: buildSurveyable,
  watchAndLooked: (owner, worksite) =>
    after(owner, buildWatchPermit(owner, { worksite }), addNewLook),
} as const satisfies Record<string, Build>

/** Issued while the site went by the one text that lets a survey end its watch; what comes after does not. */
async function buildSurveyable(owner: Owner, worksite: Worksite): Promise<BuiltPermit> {
  const { site } = worksite
  const { rows } = await owner.query<{ id: string }>(
    `INSERT INTO site_rulesets (id, site_id, ruleset_id) VALUES (gen_random_uuid(), $1, 'us-osha-1915') RETURNING id`,
    [site.id],
  )
  const rulesets = [...site.rulesets, 'us-osha-1915' as const]
  const built = await buildWatchPermit(owner, {
    worksite: { ...worksite, site: { ...site, rulesets } },
    ...{ watchMin: 90, surveyLeavesMin: 60 },
  })
  await owner.query('UPDATE site_rulesets SET to_at = kerf_now() WHERE id = $1', [rows[0]?.id])
  return built
}

/** Where time must pass: how a permit begins, and what then happens to all of them. */
const TIMED = {
  worked: { from: 'open', run: (app) => later(app, 5) },
  roundDue: { from: 'watch', run: (app) => later(app, 9) },
  watched: { from: 'watchInFull', run: watchToTheEnd },
  finished: { from: 'watchInFull', run: (app, all) => watchThen(app, all, [addFinalLook]) },
  signedOff: {
    from: 'watchInFull',
    run: (app, all) => watchThen(app, all, [addFinalLook, addWatchSignature]),
  },
} as const satisfies Record<
  string,
  { from: keyof typeof BUILD; run: (app: TestApp, all: readonly BuiltPermit[]) => Promise<void> }
>

export type PermitStage = keyof typeof BUILD | keyof typeof TIMED

const moved = new Map<TestApp, number>()

/** Moves the app's clock on; never back, since what was recorded stays. */
async function later(app: TestApp, minutes: number): Promise<void> {
  const at = (moved.get(app) ?? 0) + minutes * 60_000
  moved.set(app, at)
  await app.setClock(at)
}

type Step = (owner: Owner, built: BuiltPermit) => Promise<void>

/** One after another: two at once could wait for each other, since both write to the same record. */
async function onAll(app: TestApp, all: readonly BuiltPermit[], step: Step): Promise<void> {
  for (const built of all) await step(app.owner, built)
}

/** Five rounds, each a minute before it is due, and the rest of the hour. */
async function watchToTheEnd(app: TestApp, all: readonly BuiltPermit[]): Promise<void> {
  for (const minutes of [9, 10, 10, 10, 10]) {
    await later(app, minutes)
    await onAll(app, all, addRound)
  }
  await later(app, 13)
}

async function watchThen(
  app: TestApp,
  all: readonly BuiltPermit[],
  steps: readonly Step[],
): Promise<void> {
  await watchToTheEnd(app, all)
  for (const step of steps) await onAll(app, all, step)
}

const isTimed = (stage: PermitStage): stage is keyof typeof TIMED => stage in TIMED

/** A permit at this stage for each worksite, built together: where time must pass, it passes once. */
export async function buildStages(
  app: TestApp,
  stage: PermitStage,
  worksites: readonly Worksite[],
): Promise<BuiltPermit[]> {
  const timed = isTimed(stage) ? TIMED[stage] : null
  const build: Build = BUILD[timed ? timed.from : (stage as keyof typeof BUILD)]
  const all: BuiltPermit[] = []
  for (const worksite of worksites) all.push(await build(app.owner, worksite))
  await timed?.run(app, all)
  return all
}

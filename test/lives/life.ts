import fc from 'fast-check'
import { AppError } from '@/lib/errors'
import { type Act, type ActName, perform } from './acts'
import { broken } from './invariants'
import { tryRaw } from './raw'
import { openStage, type Pools, type Stage, type Who } from './stage'

/** What is expected of a permit, by its life as it is described and by nothing else. */
interface Model {
  state: string
  isPressed: boolean
  isStopped: boolean
}

interface Outcome {
  isDone: boolean
  /** Codes of the refusal; empty when it was done. */
  codes: readonly string[]
  /** Refused by a trigger, which lib/permit had not foreseen. */
  isByDatabase: boolean
}

/** What the app itself refuses with; every other code is the database's. */
const OF_THE_APP = new Set(['PERMIT_REFUSED', 'FORBIDDEN', 'NOT_FOUND', 'CONFLICT', 'BUSY'])

async function attempt(stage: Stage, act: Act): Promise<Outcome> {
  try {
    await perform(stage, act)
    return { isDone: true, codes: [], isByDatabase: false }
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return {
      isDone: false,
      codes: [error.code, ...error.reasons.map((reason) => reason.code)],
      isByDatabase: !OF_THE_APP.has(error.code),
    }
  }
}

/** In which states each act may succeed, and what the permit is afterwards. */
const LIFE: Readonly<Record<ActName, Readonly<Partial<Record<string, readonly string[]>>>>> = {
  agree: { cleared: ['cleared'] },
  acknowledge: { cleared: ['cleared'] },
  issue: { cleared: ['open'] },
  hold: { open: ['held'] },
  resume: { held: ['open'] },
  endWork: { open: ['watch'], held: ['watch'] },
  reopen: { watch: ['open'] },
  withdraw: { cleared: ['withdrawn'] },
  close: { watch: ['closed'] },
  signOff: { watch: ['watch'] },
  monitored: { watch: ['watch'] },
  finalLook: { watch: ['watch'] },
  statement: { watch: ['watch'] },
  look: { held: ['held'], watch: ['watch'] },
  leave: { held: ['held'], watch: ['watch'] },
  round: { held: ['held'], watch: ['watch'] },
  takeOver: { open: ['open'], held: ['held'], watch: ['watch'] },
  log: { open: ['open'], held: ['held'], watch: ['watch'], closed: ['closed'] },
  goBack: { held: ['held'] },
  press: { cleared: ['cleared'], open: ['held'], held: ['held'], watch: ['watch'] },
  pressByCode: { cleared: ['cleared'], open: ['held'], held: ['held'], watch: ['watch'] },
  stop: { cleared: ['withdrawn'], open: ['watch'], held: ['watch'], watch: ['watch'] },
  air: { cleared: ['cleared'], open: ['open', 'held'], held: ['held'], watch: ['watch'] },
  // Time alone: the end comes, or a test runs out.
  tick: {
    cleared: ['cleared'],
    open: ['open', 'held', 'watch'],
    held: ['held', 'watch'],
    watch: ['watch'],
    closed: ['closed'],
    withdrawn: ['withdrawn'],
  },
}

const mayBecome = (model: Model, act: Act): readonly string[] => LIFE[act.name][model.state] ?? []

function fail(act: Act, why: string, more: unknown = ''): never {
  throw new Error(`${JSON.stringify(act)}: ${why} ${JSON.stringify(more)}`)
}

/** A state that a permit stopped for good may still be in. */
const AFTER_STOP = new Set(['watch', 'closed', 'withdrawn'])

async function settle(model: Model, stage: Stage, act: Act): Promise<void> {
  const now = await stage.row()
  model.state = now.state
  model.isPressed = now.stop_pressed_at !== null
  model.isStopped = now.stopped_at !== null
  if (model.isStopped && !AFTER_STOP.has(model.state)) fail(act, 'a stopped permit lives', now)
  const wrong = await broken(stage)
  if (wrong.length > 0) fail(act, 'broke', wrong)
}

/** One act by one person: lib/permit, the action and the triggers must agree on it. */
class Does implements fc.AsyncCommand<Model, Stage> {
  constructor(readonly act: Act) {}
  check = () => true
  toString = () => JSON.stringify(this.act)
  async run(model: Model, stage: Stage): Promise<void> {
    const { act } = this
    const raw = await tryRaw(stage, act)
    const outcome = await attempt(stage, act)
    if (outcome.isByDatabase) fail(act, 'only the database refused it', outcome.codes)
    if (raw && (raw.codes.length === 0) !== outcome.isDone)
      fail(act, 'app and database disagree', { app: outcome.codes, database: raw.codes })
    const { state } = await stage.row()
    const allowed = outcome.isDone ? mayBecome(model, act) : [model.state]
    if (!allowed.includes(state)) fail(act, `made ${model.state} into ${state}`, outcome.codes)
    await settle(model, stage, act)
  }
}

/** Two people in the same instant: what comes of it is what one after the other could have made. */
class Both implements fc.AsyncCommand<Model, Stage> {
  constructor(
    readonly one: Act,
    readonly other: Act,
  ) {}
  check = () => true
  toString = () => `at once ${JSON.stringify(this.one)} ${JSON.stringify(this.other)}`
  async run(model: Model, stage: Stage): Promise<void> {
    const acts = [this.one, this.other]
    const outcomes = await Promise.all(acts.map((act) => attempt(stage, act)))
    const done = acts.filter((_, at) => outcomes[at]?.isDone)
    const { state } = await stage.row()
    if (!reachable(model.state, done).has(state))
      fail(this.one, `at once with ${this.other.name} made ${model.state} into ${state}`, outcomes)
    await settle(model, stage, this.one)
  }
}

/** The states that these acts lead to in some order, each of them having been done. */
function reachable(from: string, acts: readonly Act[]): Set<string> {
  if (acts.length === 0) return new Set([from])
  return new Set(
    acts.flatMap((act, at) =>
      (LIFE[act.name][from] ?? []).flatMap((next) => [
        ...reachable(next, [...acts.slice(0, at), ...acts.slice(at + 1)]),
      ]),
    ),
  )
}

class Passes implements fc.AsyncCommand<Model, Stage> {
  constructor(readonly minutes: number) {}
  check = () => true
  toString = () => `${this.minutes} min pass`
  async run(_: Model, stage: Stage): Promise<void> {
    await stage.pass(this.minutes)
  }
}

/** What belongs together, so that lives go on as often as they stop. */
class InTurn implements fc.AsyncCommand<Model, Stage> {
  constructor(readonly acts: readonly Act[]) {}
  check = () => true
  toString = () => this.acts.map((one) => one.name).join(' then ')
  async run(model: Model, stage: Stage): Promise<void> {
    for (const one of this.acts) await new Does(one).run(model, stage)
  }
}

const AIR: Act = { name: 'air', oxygen: 20.9, lel: 0, cause: '' }
const GOES_ON = fc.constantFrom<readonly Act[]>(
  [
    { name: 'hold', by: 'operator' },
    { name: 'look', by: 'foreman' },
    AIR,
    { name: 'resume', by: 'pai' },
  ],
  [{ name: 'look', by: 'operator' }, AIR, { name: 'resume', by: 'pai' }],
  [{ name: 'look', by: 'foreman' }, AIR, { name: 'reopen', by: 'pai' }],
)

const who = (...of: Who[]) => fc.constantFrom(...of)
const anyone = who('foreman', 'operator', 'fireWatch', 'pai')
const act = <N extends ActName>(
  name: N,
  rest: fc.Arbitrary<Omit<Extract<Act, { name: N }>, 'name'>>,
) => rest.map((given) => ({ name, ...given }) as unknown as Act)
const by = <N extends ActName>(name: N, of: fc.Arbitrary<Who>) =>
  of.map((person) => ({ name, by: person }) as unknown as Act)

const signs = fc.oneof(
  by('agree', who('operator', 'operator', 'operator', 'relief')),
  by('acknowledge', who('fireWatch', 'fireWatch', 'fireWatch', 'operator')),
  act(
    'issue',
    fc.record({
      by: who('pai', 'pai', 'pai', 'operator'),
      hours: fc.constantFrom(1, 4, 12, 25),
      arrivedMin: fc.constantFrom(5, 5, 20, 90),
    }),
  ),
)
const air = act(
  'air',
  fc.constantFrom(
    { oxygen: 20.9, lel: 0, cause: '' },
    { oxygen: 20.9, lel: 0, cause: '' },
    { oxygen: 20.9, lel: 0, cause: '' },
    { oxygen: 20.5, lel: 0, cause: '' },
    { oxygen: 20.5, lel: 0, cause: 'Rust' },
    { oxygen: 19.4, lel: 0, cause: '' },
    { oxygen: 20.9, lel: 11, cause: '' },
  ),
)
const works = fc.oneof(
  by('hold', anyone),
  by('look', who('foreman', 'operator')),
  by('resume', who('pai', 'pai', 'operator')),
  by('endWork', who('operator', 'foreman')),
  by('reopen', who('pai')),
  act(
    'log',
    fc.record({
      by: who('operator', 'operator', 'foreman'),
      agoMin: fc.integer({ min: 1, max: 60 }),
      forMin: fc.integer({ min: 1, max: 30 }),
    }),
  ),
)
const watches = fc.oneof(
  act(
    'round',
    fc.record({
      by: who('fireWatch', 'fireWatch', 'relief'),
      answer: fc.constantFrom('clear', 'clear', 'clear', 'clear', 'warm', 'smoke'),
    }),
  ),
  by('leave', who('fireWatch', 'relief')),
  act(
    'takeOver',
    fc.record({
      by: who('relief', 'fireWatch', 'operator'),
      part: fc.constantFrom('fire_watch', 'fire_watch', 'operator'),
    }),
  ),
)
const ends = fc.oneof(
  by('monitored', who('fireWatch')),
  by('finalLook', who('fireWatch')),
  by('statement', who('fireWatch')),
  by('signOff', who('fireWatch', 'fireWatch', 'relief')),
  by('close', who('pai', 'pai', 'operator')),
  by('withdraw', who('foreman')),
)
const stops = fc.oneof(
  by('press', anyone),
  by('stop', anyone),
  fc.constant<Act>({ name: 'pressByCode' }),
  by('goBack', who('foreman', 'operator', 'fireWatch')),
)
const anyAct = fc.oneof(
  { weight: 2, arbitrary: signs },
  { weight: 3, arbitrary: air },
  { weight: 6, arbitrary: works },
  { weight: 6, arbitrary: watches },
  { weight: 5, arbitrary: ends },
  { weight: 1, arbitrary: stops },
  { weight: 2, arbitrary: fc.constant<Act>({ name: 'tick' }) },
)

const commands = [
  anyAct.map((one) => new Does(one)),
  anyAct.map((one) => new Does(one)),
  anyAct.map((one) => new Does(one)),
  GOES_ON.map((acts) => new InTurn(acts)),
  fc.tuple(anyAct, anyAct).map(([one, other]) => new Both(one, other)),
  fc.constantFrom(1, 5, 9, 10, 10, 11, 21, 31, 65).map((minutes) => new Passes(minutes)),
]

/** Most lives begin with the work itself; the rest with whatever comes. */
const OPENING: readonly Act[] = [
  { name: 'agree', by: 'operator' },
  { name: 'acknowledge', by: 'fireWatch' },
  { name: 'issue', by: 'pai', hours: 4, arrivedMin: 5 },
]

/** Many of them end as they should: watched, looked at, signed. */
const CLOSING: readonly (Act | number)[] = [
  { name: 'endWork', by: 'operator' },
  ...[9, 10, 10, 10, 10, 10].flatMap((minutes): (Act | number)[] => [
    minutes,
    { name: 'round', by: 'fireWatch', answer: 'clear' },
  ]),
  3,
  { name: 'finalLook', by: 'fireWatch' },
  { name: 'signOff', by: 'fireWatch' },
  { name: 'close', by: 'pai' },
]

const scripted = (steps: readonly (Act | number)[]) =>
  steps.map((step) => (typeof step === 'number' ? new Passes(step) : new Does(step)))

export interface LivesWanted {
  lives: number
  mostCommands: number
  seed: number
  /** No new life begins after so long. */
  mostMs?: number
}

export interface LivesTold {
  lives: number
  /** How many permits came to each end. */
  ended: Readonly<Record<string, number>>
}

/** Random lives of permits, one after the other; throws the shortest one that breaks something. */
export async function liveThem(pools: Pools, wanted: LivesWanted): Promise<LivesTold> {
  const ended: Record<string, number> = {}
  let lives = 0
  const told = await fc.check(
    fc.asyncProperty(
      fc.commands(commands, { maxCommands: wanted.mostCommands, size: 'max' }),
      fc.record({ isOpened: fc.integer({ min: 0, max: 9 }), isClosed: fc.boolean() }),
      async (given, { isOpened, isClosed }) => {
        const stage = await openStage(pools)
        const model: Model = { state: 'cleared', isPressed: false, isStopped: false }
        const setup = () => ({ model, real: stage })
        if (isOpened > 0) for (const one of scripted(OPENING)) await one.run(model, stage)
        await fc.asyncModelRun(setup, given)
        if (isClosed) for (const one of scripted(CLOSING)) await one.run(model, stage)
        ended[model.state] = (ended[model.state] ?? 0) + 1
        lives += 1
      },
    ),
    {
      numRuns: wanted.lives,
      seed: wanted.seed,
      ...(wanted.mostMs === undefined
        ? {}
        : { interruptAfterTimeLimit: wanted.mostMs, markInterruptAsFailure: false }),
    },
  )
  if (told.failed) {
    const why = told.errorInstance instanceof Error ? told.errorInstance.message : ''
    throw new Error(
      `${why}\nin the life ${fc.stringify(told.counterexample)} (seed ${told.seed}, path ${told.counterexamplePath})`,
    )
  }
  return { lives, ended }
}

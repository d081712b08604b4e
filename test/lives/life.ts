import fc from 'fast-check'
import { AppError } from '@/lib/errors'
import { type Act, type ActName, perform } from './acts'
import { broken } from './invariants'
import { tryRaw } from './raw'
import { openStage, type Pools, type Stage, type Who } from './stage'

/** What is expected of a permit, by its life as it is described and by nothing else. */
interface Model {
  state: string
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
  survey: { watch: ['watch'] },
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

const PRESSES: ReadonlySet<ActName> = new Set(['press', 'pressByCode', 'stop'])

/** What is stopped for good answers every press the same, and stays as it is. */
const mayBecome = ({ state, isStopped }: Model, act: Act): readonly string[] =>
  isStopped && PRESSES.has(act.name) ? [state] : (LIFE[act.name][state] ?? [])

function fail(act: Act, why: string, more: unknown = ''): never {
  throw new Error(`${JSON.stringify(act)}: ${why} ${JSON.stringify(more)}`)
}

/** A state that a permit stopped for good may still be in. */
const AFTER_STOP = new Set(['watch', 'closed', 'withdrawn'])

/** Reads what became of the permit, and looks whether anything that must hold is broken. */
async function settle(
  model: Model,
  stage: Stage,
  { act, made }: Readonly<{ act: Act; made: (state: string) => string | null }>,
): Promise<void> {
  stage.forget()
  const { permit } = (await stage.context()).bundle
  const wrongly = made(permit.state)
  if (wrongly) fail(act, wrongly)
  model.state = permit.state
  model.isStopped = permit.stopped_at !== null
  if (model.isStopped && !AFTER_STOP.has(model.state)) fail(act, 'a stopped permit lives', permit)
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
    const allowed = outcome.isDone ? mayBecome(model, act) : [model.state]
    const made = (state: string) =>
      allowed.includes(state) ? null : `made ${model.state} into ${state} ${outcome.codes}`
    await settle(model, stage, { act, made })
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
    const made = (state: string) =>
      reachable(model, done).has(state)
        ? null
        : `at once with ${this.other.name} made ${model.state} into ${state} ${JSON.stringify(outcomes)}`
    await settle(model, stage, { act: this.one, made })
  }
}

/** The states that these acts lead to in some order, each of them having been done. */
function reachable(from: Model, acts: readonly Act[]): Set<string> {
  if (acts.length === 0) return new Set([from.state])
  return new Set(
    acts.flatMap((act, at) =>
      mayBecome(from, act).flatMap((state) => {
        const after = { state, isStopped: from.isStopped || act.name === 'stop' }
        return [...reachable(after, [...acts.slice(0, at), ...acts.slice(at + 1)])]
      }),
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
      scan: fc.constantFrom('right', 'right', 'right', 'lost', 'other', 'none'),
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
  by('survey', who('pai', 'fireWatch')),
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

const YEAR_START_MS = Date.UTC(2026, 11, 1)
const MINUTES_A_YEAR = 365 * 24 * 60
const beginsAt = (minute: number) => new Date(YEAR_START_MS + minute * 60_000)
/** The nights in which a clock of these zones is put on or back, of that year. @source IANA tz database 2025b. */
const CHANGES = ['2027-03-14T07:00Z', '2027-11-07T06:00Z', '2027-03-28T01:00Z', '2027-10-31T01:00Z']

/** Any minute of a year, and often the hours before a clock changes. */
const beginning = fc.record({
  at: fc.oneof(
    { weight: 4, arbitrary: fc.integer({ min: 0, max: MINUTES_A_YEAR }).map(beginsAt) },
    {
      weight: 1,
      arbitrary: fc
        .tuple(fc.constantFrom(...CHANGES), fc.integer({ min: -300, max: 30 }))
        .map(([change, minutes]) => new Date(Date.parse(change) + minutes * 60_000)),
    },
  ),
  zone: fc.constantFrom('America/New_York', 'America/New_York', 'Europe/London', 'Asia/Kolkata'),
  isCoded: fc.boolean(),
})

const lifeOf = (mostCommands: number) =>
  fc.tuple(
    fc.commands(commands, { maxCommands: mostCommands, size: 'max' }),
    fc.record({ isOpened: fc.integer({ min: 0, max: 9 }), isClosed: fc.boolean(), beginning }),
  )

export interface LivesWanted {
  /** The number of the first life. A life's number is all that it is made of: it can be lived again. */
  from: number
  lives: number
  mostCommands: number
  /** No new life begins after so long. */
  mostMs?: number
}

export interface LivesTold {
  lives: number
  /** How many permits came to each end. */
  ended: Readonly<Record<string, number>>
}

/** The life of this number; throws the shortest one like it that breaks something. */
export async function liveOne(pools: Pools, number: number, mostCommands: number): Promise<string> {
  let ended = ''
  const told = await fc.check(
    fc.asyncProperty(lifeOf(mostCommands), async ([given, { isOpened, isClosed, beginning }]) => {
      const stage = await openStage(pools, beginning)
      const model: Model = { state: 'cleared', isStopped: false }
      try {
        if (isOpened > 0) for (const one of scripted(OPENING)) await one.run(model, stage)
        await fc.asyncModelRun(() => ({ model, real: stage }), given)
        if (isClosed) for (const one of scripted(CLOSING)) await one.run(model, stage)
      } finally {
        await stage.retire()
      }
      ended = model.state
    }),
    { numRuns: 1, seed: number },
  )
  if (told.failed) {
    const why = told.errorInstance instanceof Error ? told.errorInstance.message : ''
    throw new Error(
      `${why}\nin life ${number}, made shorter: ${fc.stringify(told.counterexample)} (path ${told.counterexamplePath})`,
    )
  }
  return ended
}

/** Random lives of permits, one after the other. */
export async function liveThem(pools: Pools, wanted: LivesWanted): Promise<LivesTold> {
  const ended: Record<string, number> = {}
  const until = performance.now() + (wanted.mostMs ?? Number.POSITIVE_INFINITY)
  let lives = 0
  while (lives < wanted.lives && performance.now() < until) {
    const end = await liveOne(pools, wanted.from + lives, wanted.mostCommands)
    ended[end] = (ended[end] ?? 0) + 1
    lives += 1
  }
  return { lives, ended }
}

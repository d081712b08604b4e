import type { SizePrior } from './hypotheses-evidence'
import { CAUSE_PRIORS, HOW_SHARES } from './hypotheses-priors'
import type { TrailSystem } from './hypotheses-system'
import type {
  CauseKind,
  CauseSubject,
  MistypedHow,
  Stretch,
  Trail,
  TrailReading,
} from './hypotheses-types'
import type { Signature } from './reconcile-form'
import { once } from './reconcile-solver'

/** A cause that is thought of, before the balances are asked. */
export type Candidate = {
  kind: CauseKind
  signature: Signature
  /** Believed before the balances are asked. */
  belief: number
  /** Gas that one signature unit moves, kg. */
  kgPerUnit: number
  /** Worked out only of the few that the balances speak for: of most causes nobody ever asks. */
  detail: () => CandidateDetail
}

export type CandidateDetail = {
  /** Of its size, in signature units. */
  priors: readonly SizePrior[]
  /** How a reading would have been mistyped under each of the priors. */
  hows: readonly (MistypedHow | null)[]
  subject: CauseSubject
}

const DAY_MS = 86_400_000
/** How far a size that follows from the record may still be off, a share of a full cylinder. Own choice. */
const KNOWN_SHARE = 0.03
/** A wrong reading of any other kind, a share of a full cylinder. Own choice. */
const ANY_SHARE = 0.4
/** A short filling. Own choice. */
const SHORT_SHARE = 0.2
/** A leaking valve loses about so much of a full cylinder a day. Own choice. */
const LEAK_SHARE_A_DAY = 0.01
/** Raw losses below so many of their deviations are not looked at as leaks. */
const LEAST_LEAK_Z = 2
/** Stretches on one outfit that a leak in use is looked for over. */
const USE_RUNS = [1, 3, 8]

export const sizeNear = (mean: number, nominalKg: number, isPositive: boolean): SizePrior => ({
  mean,
  sd: KNOWN_SHARE * nominalKg,
  weight: 1,
  isPositive,
})

const above = (sd: number): SizePrior => ({ mean: 0, sd, weight: 1, isPositive: true })

export const readingAt = (trail: Trail, place: number) => trail.readings[place] as TrailReading

/** Whom a cause about some stretches and readings speaks of. */
export function subjectOf(
  trail: Trail,
  stretches: readonly Stretch[],
  readings: readonly number[],
): CauseSubject {
  const ends = [...new Set([...readings, ...stretches.flatMap((one) => one.ends)])]
  const named = ends.map((place) => readingAt(trail, place))
  const own = readings.map((place) => readingAt(trail, place))
  return {
    siteId: stretches[0]?.siteId ?? own[0]?.siteId ?? '',
    fromMs: Math.min(...own.map((one) => one.atMs), ...stretches.map((one) => one.fromMs)),
    toMs: Math.max(...own.map((one) => one.atMs), ...stretches.map((one) => one.toMs)),
    cylinderIds: [...new Set((own.length > 0 ? own : named).map((one) => one.cylinderId))],
    readingIds: (own.length > 0 ? own : named).map((one) => one.id),
    outfitId: stretches.find((one) => one.outfitId)?.outfitId ?? own[0]?.outfitId ?? null,
    jobIds: [...new Set(stretches.flatMap((one) => one.jobIds))],
  }
}

/** Each reading mistyped, and each delivery short of what the filler said. */
export function* readingCandidates(trail: Trail, parted: TrailSystem): Generator<Candidate> {
  const { stretchOf, before } = parted
  const opens = new Int32Array(trail.readings.length).fill(-1)
  for (const [place, earlier] of before.entries())
    if (earlier >= 0) opens[earlier] = stretchOf[place] as number
  for (const [place, reading] of trail.readings.entries()) {
    const [open, close] = [opens[place] as number, stretchOf[place] as number]
    if (open === close) continue
    const signature = [
      ...(open < 0 ? [] : [{ balance: open, effect: 1 }]),
      ...(close < 0 ? [] : [{ balance: close, effect: -1 }]),
    ]
    const isFilled = reading.kind === 'filled'
    const kind = isFilled ? 'short_fill' : 'reading_mistyped'
    yield {
      kind,
      signature,
      belief: CAUSE_PRIORS[kind],
      kgPerUnit: 1,
      detail: once(() => ({
        subject: subjectOf(trail, [], [place]),
        ...(isFilled
          ? { priors: [above(SHORT_SHARE * reading.nominalKg)], hows: [null] }
          : mistypedPriors(reading)),
      })),
    }
  }
}

function mistypedPriors({ gasKg, nominalKg, meantAs: ask }: TrailReading) {
  const meantAs = ask()
  const other: SizePrior = { mean: 0, sd: ANY_SHARE * nominalKg, weight: 1, isPositive: false }
  const named = meantAs.map(({ how, gasKg: meantKg }) => {
    const same = meantAs.filter((one) => one.how === how).length
    const weight = HOW_SHARES[how] / same
    const prior =
      meantKg === null
        ? other
        : { ...sizeNear(gasKg - meantKg, nominalKg, false), isPositive: false }
    return { how, prior: { ...prior, weight } }
  })
  const rest = 1 - named.reduce((sum, one) => sum + one.prior.weight, 0)
  return {
    priors: [...named.map((one) => one.prior), { ...other, weight: rest }],
    hows: [...named.map((one) => one.how), null],
  }
}

/** Gas that left an outfit's stretches beyond what was logged: work, or a leak while it was worked. */
export function* outfitCandidates(trail: Trail, parted: TrailSystem): Generator<Candidate> {
  const byOutfit = new Map<string, number[]>()
  parted.stretches.forEach(({ outfitId }, place) => {
    if (outfitId === null) return
    const own = byOutfit.get(outfitId)
    if (own) own.push(place)
    else byOutfit.set(outfitId, [place])
  })
  for (const places of byOutfit.values()) {
    places.sort((a, b) => at(parted, a).fromMs - at(parted, b).fromMs)
    for (const [nth, place] of places.entries()) {
      yield* unlogged(trail, parted, place)
      for (const length of USE_RUNS)
        if (nth + length <= places.length)
          yield* leakInUse(trail, parted, places.slice(nth, nth + length))
    }
  }
}

const at = (parted: TrailSystem, place: number) => parted.stretches[place] as Stretch

const pullOf = (parted: TrailSystem, places: readonly number[]) =>
  places.reduce((sum, place) => sum + (parted.system.multipliers[place] as number), 0)

function unlogged(trail: Trail, parted: TrailSystem, place: number): Candidate[] {
  if (pullOf(parted, [place]) <= 0) return []
  const stretch = at(parted, place)
  const nominalKg = readingAt(trail, stretch.ends[0] as number).nominalKg
  return [
    {
      kind: 'work_not_logged',
      signature: [{ balance: place, effect: 1 }],
      belief: CAUSE_PRIORS.work_not_logged,
      kgPerUnit: 1,
      detail: once(() => ({
        priors: [above(0.5 * nominalKg)],
        hows: [null],
        subject: subjectOf(trail, [stretch], []),
      })),
    },
  ]
}

function leakInUse(trail: Trail, parted: TrailSystem, places: readonly number[]): Candidate[] {
  if (pullOf(parted, places) <= 0) return []
  const stretches = places.map((place) => at(parted, place))
  const nominalKg = readingAt(trail, stretches[0]?.ends[0] as number).nominalKg
  return [
    {
      kind: 'leak_in_use',
      signature: places.map((balance) => ({ balance, effect: 1 })),
      belief: CAUSE_PRIORS.leak_in_use / USE_RUNS.length,
      kgPerUnit: places.length,
      detail: once(() => ({
        priors: [above(0.2 * nominalKg)],
        hows: [null],
        subject: subjectOf(trail, stretches, []),
      })),
    },
  ]
}

/** Cylinders that lose gas while they stand or hang unused, from each of their readings on. */
export function* standingCandidates(trail: Trail, parted: TrailSystem): Generator<Candidate> {
  for (const run of idleRuns(parted))
    for (let onset = 0; onset < run.length; onset += 1)
      yield* leakIdle(trail, parted, run.slice(onset), run.length)
}

/** Runs of readings that each end an idle interval of one filling. */
function idleRuns({ stretchOf, before, stretches }: TrailSystem): number[][] {
  const runs: number[][] = []
  const runOf = new Map<number, number[]>()
  for (const [end, place] of stretchOf.entries()) {
    const stretch = stretches[place]
    if (!stretch || stretch.kind === 'work' || stretch.ends.length > 1) continue
    const open = runOf.get(before[end] as number) ?? []
    if (open.length === 0) runs.push(open)
    open.push(end)
    runOf.set(end, open)
  }
  return runs
}

function leakIdle(
  trail: Trail,
  parted: TrailSystem,
  ends: readonly number[],
  onsets: number,
): Candidate[] {
  const first = readingAt(trail, parted.before[ends[0] as number] as number)
  const last = readingAt(trail, ends.at(-1) as number)
  const stretches = ends.map((end) => at(parted, parted.stretchOf[end] as number))
  const expected = stretches.reduce((sum, one) => sum + (one.expectedKg ?? 0), 0)
  const lost = first.gasKg - last.gasKg - expected
  const u = Math.hypot(first.standardUncertaintyKg, last.standardUncertaintyKg)
  if (lost < LEAST_LEAK_Z * u) return []
  const days = stretches.map((one) => Math.max(1 / 24, (one.toMs - one.fromMs) / DAY_MS))
  const isLiquid = expected > 0
  const kind = isLiquid ? 'boil_off' : 'leak_idle'
  const all = days.reduce((sum, one) => sum + one, 0)
  return [
    {
      kind,
      signature: ends.map((end, i) => ({
        balance: parted.stretchOf[end] as number,
        effect: days[i] as number,
      })),
      belief: CAUSE_PRIORS[kind] / onsets,
      kgPerUnit: all,
      detail: once(() => ({
        priors: [above(isLiquid ? expected / all : LEAK_SHARE_A_DAY * first.nominalKg)],
        hows: [null],
        subject: { ...subjectOf(trail, stretches, [...ends]), fromMs: first.atMs },
      })),
    },
  ]
}

import { CalcError, requireNumber } from './errors'
import type { Stretch, Trail, TrailReading, TrailWork } from './hypotheses-types'

const DAY_MS = 86_400_000

type Interval = { end: number; from: TrailReading; to: TrailReading; outfitId: string | null }

export type Stretches = {
  stretches: Stretch[]
  /** Place of the stretch that each reading ends, −1 for a filling's first. */
  stretchOf: Int32Array
  /** Place of the reading before of the same filling, −1 for the first. */
  before: Int32Array
  /** Filling of each reading, counted from nought. */
  fillings: Int32Array
}

/**
 * Parts a trail into stretches that each must balance.
 *
 * On an outfit, intervals between readings and logs of work that overlap in time belong together, however
 * many cylinders took turns: what left them all is held against all that the work should have taken, and
 * nobody has to guess which cylinder served which cut. Where nothing was logged nothing should have left;
 * a cylinder that stands should lose nothing, or what boils off.
 *
 * @param trail readings oldest first within each cylinder
 * @throws {CalcError} WRONG_ORDER where a cylinder's readings are not; NOT_FINITE or OUT_OF_RANGE
 * @source definition of this library
 */
export function stretchesOf(trail: Trail): Stretches {
  const { readings } = trail
  const before = new Int32Array(readings.length).fill(-1)
  const fillings = new Int32Array(readings.length)
  const last = new Map<string, number>()
  const intervals: Interval[] = []
  let count = 0
  for (const [end, to] of readings.entries()) {
    requireNumber(`readings.${end}.gasKg`, to.gasKg)
    requireNumber(`readings.${end}.standardUncertaintyKg`, to.standardUncertaintyKg, { above: 0 })
    const earlier = last.get(to.cylinderId)
    last.set(to.cylinderId, end)
    const from = earlier === undefined ? undefined : readings[earlier]
    if (from && to.atMs < from.atMs)
      throw new CalcError('WRONG_ORDER', `readings.${end}.atMs`, to.atMs, { min: from.atMs })
    if (earlier === undefined || !from || to.kind === 'filled') {
      fillings[end] = count
      count += 1
      continue
    }
    before[end] = earlier
    fillings[end] = fillings[earlier] as number
    intervals.push({ end, from, to, outfitId: hangsOn(from, to) })
  }
  const worksOn = new Map(groupBy(trail.works, (work) => work.outfitId))
  const stretches = [
    ...standing(intervals, trail),
    ...groupBy(
      intervals.filter((one) => one.outfitId !== null),
      (one) => one.outfitId ?? '',
    ).flatMap(([outfitId, own]) => onOutfit(own, worksOn.get(outfitId) ?? [], trail.explainedKg)),
  ]
  const stretchOf = new Int32Array(readings.length).fill(-1)
  stretches.forEach((stretch, place) => {
    for (const end of stretch.ends) stretchOf[end] = place
  })
  return { stretches, stretchOf, before, fillings }
}

/** It hung there in between: put on or read there, and read or taken off there. */
const hangsOn = (from: TrailReading, to: TrailReading) =>
  from.outfitId !== null &&
  from.kind !== 'taken_off' &&
  to.kind !== 'put_on' &&
  from.outfitId === to.outfitId
    ? from.outfitId
    : null

function standing(intervals: readonly Interval[], trail: Trail): Stretch[] {
  return intervals
    .filter((one) => one.outfitId === null)
    .map(({ end, from, to }) => ({
      kind: 'standing',
      siteId: from.siteId,
      outfitId: null,
      jobIds: [],
      groupId: null,
      fromMs: from.atMs,
      toMs: to.atMs,
      expectedKg: ((to.atMs - from.atMs) / DAY_MS) * (trail.boilOffKgPerDay?.[from.sizeId] ?? 0),
      explainedKg: trail.explainedKg?.get(to.id) ?? 0,
      ends: [end],
    }))
}

type Piece = { fromMs: number; toMs: number; interval?: Interval; work?: TrailWork }

/** One outfit: what overlaps is one stretch; intervals overlap each other only where cylinders hang side by side. */
function onOutfit(
  intervals: readonly Interval[],
  works: readonly TrailWork[],
  explainedKg: Trail['explainedKg'],
): Stretch[] {
  const pieces: Piece[] = [
    ...intervals.map((interval) => ({
      fromMs: interval.from.atMs,
      toMs: interval.to.atMs,
      interval,
    })),
    ...works.map((work) => ({ fromMs: work.fromMs, toMs: work.toMs, work })),
  ].sort((a, b) => a.fromMs - b.fromMs || a.toMs - b.toMs)
  const groups: { toMs: number; pieces: Piece[] }[] = []
  for (const piece of pieces) {
    const open = groups.at(-1)
    if (open && piece.fromMs < open.toMs) {
      open.pieces.push(piece)
      open.toMs = Math.max(open.toMs, piece.toMs)
    } else groups.push({ toMs: piece.toMs, pieces: [piece] })
  }
  return groups.flatMap(({ pieces: own }) => toStretch(own, explainedKg))
}

function toStretch(pieces: readonly Piece[], explainedKg: Trail['explainedKg']): Stretch[] {
  const intervals = pieces.flatMap((piece) => piece.interval ?? [])
  const works = pieces.flatMap((piece) => piece.work ?? [])
  const first = intervals[0]
  if (!first) return []
  return [
    {
      kind: works.length > 0 ? 'work' : 'hanging',
      siteId: first.from.siteId,
      outfitId: first.outfitId,
      jobIds: [...new Set(works.flatMap((work) => work.jobId ?? []))],
      groupId: works[0]?.groupId ?? null,
      fromMs: Math.min(...intervals.map((one) => one.from.atMs)),
      toMs: Math.max(...intervals.map((one) => one.to.atMs)),
      expectedKg: expectedOf(works, intervals),
      explainedKg: intervals.reduce((sum, one) => sum + (explainedKg?.get(one.to.id) ?? 0), 0),
      ends: intervals.map((one) => one.end),
    },
  ]
}

/** Work that began before the first reading or went on after the last is not measured whole. Own choice. */
const MOST_OUTSIDE_MS = 10 * 60_000

function expectedOf(works: readonly TrailWork[], intervals: readonly Interval[]): number | null {
  const fromMs = Math.min(...intervals.map((one) => one.from.atMs))
  const toMs = Math.max(...intervals.map((one) => one.to.atMs))
  let sum = 0
  for (const work of works) {
    const outsideMs = Math.max(0, fromMs - work.fromMs) + Math.max(0, work.toMs - toMs)
    if (work.expectedKg === null || outsideMs > MOST_OUTSIDE_MS) return null
    sum += work.expectedKg
  }
  return sum
}

/** Members by key, in the order of their first. */
export function groupBy<T>(members: readonly T[], keyOf: (member: T) => string): [string, T[]][] {
  const groups = new Map<string, T[]>()
  for (const member of members) {
    const key = keyOf(member)
    const own = groups.get(key)
    if (own) own.push(member)
    else groups.set(key, [member])
  }
  return [...groups]
}

import type { WatchInput, WatchProgress, WatchRound } from './types'

const MS_PER_MIN = 60_000
/** A round may be made this long before it is due. */
const ROUND_OPENS_BEFORE_MS = 2 * MS_PER_MIN

/** Half-open spans of milliseconds, sorted and not touching. */
type Span = readonly [from: number, to: number]

function union(spans: readonly Span[]): Span[] {
  const merged: Span[] = []
  for (const span of spans.filter(([from, to]) => to > from).toSorted((a, b) => a[0] - b[0])) {
    const last = merged.at(-1)
    if (!last || span[0] > last[1]) merged.push(span)
    else merged[merged.length - 1] = [last[0], Math.max(last[1], span[1])]
  }
  return merged
}

function clip(spans: readonly Span[], [from, to]: Span): Span[] {
  return spans.map(([a, b]): Span => [Math.max(a, from), Math.min(b, to)]).filter(([a, b]) => b > a)
}

function subtract(spans: readonly Span[], holes: readonly Span[]): Span[] {
  return holes
    .reduce<readonly Span[]>(
      (left, [from, to]) =>
        left.flatMap(([a, b]): Span[] =>
          to <= a || from >= b
            ? [[a, b]]
            : [[a, Math.min(b, from)] as const, [Math.max(a, to), b] as const],
        ),
      spans,
    )
    .filter(([a, b]) => b > a)
}

const lengthMs = (spans: readonly Span[]) => spans.reduce((sum, [from, to]) => sum + to - from, 0)

/** The instant at which the spans add up to `wantedMs`; null while they do not. */
function reachedAt(spans: readonly Span[], wantedMs: number): number | null {
  let leftMs = wantedMs
  for (const [from, to] of spans) {
    if (to - from >= leftMs) return from + leftMs
    leftMs -= to - from
  }
  return null
}

interface Walk {
  anchorMs: number
  /** Slots 1 to this one are satisfied. */
  slots: number
  unproven: readonly Span[]
  rounds: readonly WatchRound[]
  restarts: number
}

function takeRound(walk: Walk, atMs: number, intervalMs: number): Walk {
  const dueMs = walk.anchorMs + (walk.slots + 1) * intervalMs
  // Before its window opens a look is only a look: it satisfies nothing.
  if (atMs < dueMs - ROUND_OPENS_BEFORE_MS) return walk
  const lateMs = Math.max(0, atMs - dueMs)
  const restarted = lateMs >= intervalMs
  const round = {
    dueAt: new Date(dueMs),
    at: new Date(atMs),
    lateMs,
    addedMs: restarted ? 0 : lateMs,
    restarted,
  }
  if (restarted) {
    return {
      anchorMs: atMs,
      slots: 0,
      unproven: [],
      rounds: [...walk.rounds, { ...round, addedMs: atMs - walk.anchorMs }],
      restarts: walk.restarts + 1,
    }
  }
  return {
    ...walk,
    slots: walk.slots + 1,
    unproven: lateMs > 0 ? [...walk.unproven, [dueMs, atMs] as const] : walk.unproven,
    rounds: [...walk.rounds, round],
  }
}

/** What is not proven at `nowMs` because a round is due; everything, once it is a whole interval late. */
function pending(walk: Walk, nowMs: number, intervalMs: number): Span[] {
  const dueMs = walk.anchorMs + (walk.slots + 1) * intervalMs
  if (dueMs >= nowMs) return []
  return nowMs - dueMs >= intervalMs ? [[walk.anchorMs, nowMs]] : [[dueMs, nowMs]]
}

/** How far the watch had come at an instant, by the rounds made up to then. */
function standing(input: WatchInput, atMs: number) {
  const intervalMs = input.roundIntervalMin * MS_PER_MIN
  const start: Walk = {
    anchorMs: input.torchOutAt.getTime(),
    slots: 0,
    unproven: [],
    rounds: [],
    restarts: 0,
  }
  const walk = input.roundsAt
    .map((round) => round.getTime())
    .filter((ms) => ms >= start.anchorMs && ms <= atMs)
    .toSorted((a, b) => a - b)
    .reduce((so, ms) => takeRound(so, ms, intervalMs), start)
  const present = union(
    input.presence.map(
      ({ from, to }): Span => [from.getTime(), Math.min(to?.getTime() ?? atMs, atMs)],
    ),
  )
  const here = clip(present, [walk.anchorMs, atMs])
  const credited = subtract(subtract(here, walk.unproven), pending(walk, atMs, intervalMs))
  return { walk, present, credited, creditMs: lengthMs(credited) }
}

/**
 * When the watch first reached its minutes. Rounds end with the watch: one that is due at or
 * after that instant need not be made, and one made later takes nothing back.
 */
function firstDoneMs(input: WatchInput, nowMs: number): number | null {
  const wantedMs = input.watchMin * MS_PER_MIN
  const startMs = input.torchOutAt.getTime()
  if (wantedMs <= 0) return startMs
  const intervalMs = input.roundIntervalMin * MS_PER_MIN
  const roundsMs = input.roundsAt
    .map((at) => at.getTime())
    .filter((ms) => ms > startMs && ms < nowMs)
  // Between two rounds credit only grows until the next slot falls due, so its peaks are these instants.
  const instants = [...roundsMs, nowMs].flatMap((ms) => {
    const { walk } = standing(input, ms - 1)
    const dueMs = walk.anchorMs + (walk.slots + 1) * intervalMs
    return dueMs < ms ? [dueMs, ms] : [ms]
  })
  for (const ms of [...new Set(instants)].toSorted((a, b) => a - b)) {
    const { credited, creditMs } = standing(input, ms)
    if (creditMs >= wantedMs) return reachedAt(credited, wantedMs)
  }
  return null
}

function pausedSinceMs(present: readonly Span[], anchorMs: number, nowMs: number): number | null {
  const last = present.at(-1)
  if (!last || last[1] <= anchorMs) return anchorMs
  return last[1] >= nowMs ? null : last[1]
}

/**
 * How far the fire watch has come: presence since the torch last went out, less what late rounds
 * leave unproven. Rounds are due on a grid of the interval from the anchor, and the grid does not
 * move for a late round. Late by less than an interval: the minutes between due and made do not
 * count. Late by an interval or more: the watch starts over at that round.
 *
 * @param input instants, minutes and presence; overlapping presence counts once
 * @returns credit in milliseconds, what remains, the rounds as judged, and when the next is due
 * @remarks An open stint (`to: null`) counts as present up to `now`. Pausing while a round is
 *   pending shows in `creditMs` at once; a round later gives back nothing of it.
 */
export function watchProgress(input: WatchInput): WatchProgress {
  const nowMs = input.now.getTime()
  const wantedMs = input.watchMin * MS_PER_MIN
  const intervalMs = input.roundIntervalMin * MS_PER_MIN
  const doneMs = firstDoneMs(input, nowMs)
  const { walk, present, creditMs } = standing(input, doneMs ?? nowMs)
  const remainingMs = doneMs === null ? Math.max(0, wantedMs - creditMs) : 0
  const dueMs = walk.anchorMs + (walk.slots + 1) * intervalMs
  const isDueBeforeEnd = doneMs === null && dueMs < nowMs + remainingMs
  const paused = doneMs === null ? pausedSinceMs(present, walk.anchorMs, nowMs) : null
  return {
    anchorAt: new Date(walk.anchorMs),
    creditMs: doneMs === null ? creditMs : Math.max(0, wantedMs),
    remainingMs,
    endsAtIfWatched: new Date(doneMs ?? nowMs + remainingMs),
    nextDueAt: isDueBeforeEnd ? new Date(dueMs) : null,
    nextOpensAt: isDueBeforeEnd ? new Date(dueMs - ROUND_OPENS_BEFORE_MS) : null,
    rounds: walk.rounds,
    addedMs: walk.rounds.reduce((sum, round) => sum + round.addedMs, 0),
    pausedSince: paused === null ? null : new Date(paused),
    restarts: walk.restarts,
    done: doneMs !== null,
    doneAt: doneMs === null ? null : new Date(doneMs),
  }
}

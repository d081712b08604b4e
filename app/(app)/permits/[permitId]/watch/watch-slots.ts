import type { RoundMade, WatchFacts } from '@/lib/data/watch/view'
import type { WatchProgress } from '@/lib/permit/types'
import { watchProgress } from '@/lib/permit/watch'

const MINUTE_MS = 60_000

/** How the watch stands at a moment: the same count as the database's, on the server's clock. */
export function progressAt(facts: WatchFacts, nowMs: number): WatchProgress {
  return watchProgress({
    torchOutAt: new Date(facts.torchOutMs),
    watchMin: facts.watchMin,
    roundIntervalMin: facts.roundIntervalMin,
    presence: facts.presence.map(({ fromMs, toMs }) => ({
      from: new Date(fromMs),
      to: toMs === null ? null : new Date(toMs),
    })),
    roundsAt: facts.roundsMs.map((ms) => new Date(ms)),
    now: new Date(nowMs),
  })
}

export type RoundSlot = Readonly<{
  number: number
  dueMs: number
  /** When it was made; null while it is to come. */
  atMs: number | null
  lateMs: number
  made: RoundMade | null
  /** Looks at a post that was not clear, before the next round was open. */
  again: readonly RoundMade[]
}>

export type WatchSlots = Readonly<{
  anchorMs: number
  endMs: number
  /** Minutes beyond the watch's own: late rounds and time when nobody watched. */
  addedMs: number
  gaps: readonly Readonly<{ fromMs: number; toMs: number }>[]
  slots: readonly RoundSlot[]
  next: RoundSlot | null
  opensMs: number | null
  /** The round that is due is a whole interval late: nothing so far counts, and it starts the watch over. */
  isLost: boolean
}>

/** Every round of the watch as it runs now, those made and those to come, on one grid. */
export function watchSlots({
  facts,
  rounds,
  progress,
  nowMs,
}: Readonly<{
  facts: WatchFacts
  rounds: readonly RoundMade[]
  progress: WatchProgress
  nowMs: number
}>): WatchSlots {
  const anchorMs = progress.anchorAt.getTime()
  const endMs = (
    progress.doneAt ??
    progress.endsAtIfWatched ??
    new Date(anchorMs + facts.watchMin * MINUTE_MS)
  ).getTime()
  const counted = progress.rounds.filter((one) => !one.restarted && one.dueAt.getTime() > anchorMs)
  const made = counted.map((one, index): RoundSlot => {
    const atMs = one.at.getTime()
    const untilMs = counted[index + 1]?.at.getTime() ?? Infinity
    return {
      number: index + 1,
      dueMs: one.dueAt.getTime(),
      atMs,
      lateMs: one.lateMs,
      made: rounds.find((round) => round.atMs === atMs) ?? null,
      again: rounds.filter(
        ({ atMs: ms, unscanned }) => ms > atMs && ms < untilMs && unscanned.length === 0,
      ),
    }
  })
  const toCome = comingSlots({
    progress,
    endMs,
    stepMs: facts.roundIntervalMin * MINUTE_MS,
    first: made.length + 1,
    nowMs,
  })
  const isLost = (toCome[0]?.lateMs ?? 0) >= facts.roundIntervalMin * MINUTE_MS
  return {
    isLost,
    anchorMs,
    endMs,
    addedMs: Math.max(0, endMs - anchorMs - facts.watchMin * MINUTE_MS),
    gaps: [
      ...counted
        .filter((one) => one.lateMs > 0)
        .map((one) => ({ fromMs: one.dueAt.getTime(), toMs: one.at.getTime() })),
      ...pendingGap(toCome[0], nowMs),
    ],
    slots: [...made, ...(isLost ? toCome.slice(0, 1) : toCome)],
    next: toCome[0] ?? null,
    opensMs: progress.nextOpensAt?.getTime() ?? null,
  }
}

/** What a round that is due and not made leaves unproven so far. */
function pendingGap(next: RoundSlot | undefined, nowMs: number) {
  return next && nowMs - next.dueMs >= MINUTE_MS ? [{ fromMs: next.dueMs, toMs: nowMs }] : []
}

type Coming = Readonly<{
  progress: WatchProgress
  endMs: number
  stepMs: number
  first: number
  nowMs: number
}>

function comingSlots({ progress, endMs, stepMs, first, nowMs }: Coming): RoundSlot[] {
  if (progress.done || progress.nextDueAt === null || stepMs <= 0) return []
  const nextMs = progress.nextDueAt.getTime()
  const count = Math.max(0, Math.ceil((endMs - nextMs) / stepMs))
  return Array.from({ length: count }, (_, index) => {
    const dueMs = nextMs + index * stepMs
    return {
      number: first + index,
      dueMs,
      atMs: null,
      lateMs: Math.max(0, nowMs - dueMs),
      made: null,
      again: [],
    }
  })
}

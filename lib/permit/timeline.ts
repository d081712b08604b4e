import type { PermitEventKind, PermitState, WatchProgress } from './types'

export interface TimelineEvent {
  kind: PermitEventKind
  at: Date
}

/** `monitored` is the low mark of a watch whose minutes are done and whose monitoring still runs. */
export type TimelinePattern = PermitState | 'monitored'

export interface TimelineSpan {
  pattern: TimelinePattern
  from: Date
  to: Date
}

export interface Timeline {
  from: Date
  to: Date
  spans: readonly TimelineSpan[]
  /** The watch that runs under a hold, drawn as a wedge below its slices. */
  holdWatches: readonly { from: Date; to: Date }[]
  cuts: readonly { from: Date; to: Date }[]
  rounds: readonly { at: Date; lateMs: number; worst: 'clear' | 'warm' | 'smoke' }[]
  /** Minutes that a late round left unproven, or a whole watch that started over. */
  added: readonly { from: Date; to: Date; restarted: boolean }[]
}

/** Which state an event leaves the permit in; an event that is not here leaves it as it was. */
const LEADS_TO: Partial<Record<PermitEventKind, TimelinePattern>> = {
  prepared: 'preparing',
  cleared: 'cleared',
  clearance_reopened: 'preparing',
  issued: 'open',
  held: 'held',
  resumed: 'open',
  reopened: 'open',
  work_ended: 'watch',
  expired: 'watch',
  closed: 'closed',
  withdrawn: 'withdrawn',
}

function stateSpans(events: readonly TimelineEvent[], until: Date): TimelineSpan[] {
  const changes = events.flatMap((event) => {
    const pattern = LEADS_TO[event.kind]
    return pattern ? [{ pattern, from: event.at }] : []
  })
  return changes.flatMap((change, index): TimelineSpan[] => {
    const to = changes[index + 1]?.from ?? until
    const isEnd = change.pattern === 'closed' || change.pattern === 'withdrawn'
    return to.getTime() > change.from.getTime() || isEnd ? [{ ...change, to }] : []
  })
}

/** The last watch splits at the instant its minutes were done: what follows is monitoring. */
function splitMonitored(spans: readonly TimelineSpan[], doneAt: Date | null): TimelineSpan[] {
  const last = spans.findLastIndex((span) => span.pattern === 'watch')
  return spans.flatMap((span, index): TimelineSpan[] => {
    const isSplit = index === last && doneAt !== null && doneAt > span.from && doneAt < span.to
    if (!isSplit) return [span]
    return [
      { ...span, to: doneAt },
      { pattern: 'monitored', from: doneAt, to: span.to },
    ]
  })
}

/** A final stop shows from its instant on, whatever duties still run under it. */
function stoppedAt(events: readonly TimelineEvent[]): Date | null {
  const last = events.filter((event) => event.kind === 'stopped').at(-1)
  const isTakenBack =
    last && events.some((event) => event.kind === 'stop_withdrawn' && event.at >= last.at)
  return last && !isTakenBack ? last.at : null
}

export interface TimelineInput {
  events: readonly TimelineEvent[]
  cuts: readonly { from: Date; to: Date }[]
  rounds: readonly { at: Date; lateMs: number; worst: 'clear' | 'warm' | 'smoke' }[]
  watch: WatchProgress | null
  now: Date
}

/** A permit's whole life as spans on one axis, from its events in the order of their numbers. */
export function permitTimeline(input: TimelineInput): Timeline & { stoppedAt: Date | null } {
  const { events, now } = input
  const ended = events.find((event) => event.kind === 'closed' || event.kind === 'withdrawn')
  const until = ended?.at ?? now
  const spans = splitMonitored(stateSpans(events, until), input.watch?.doneAt ?? null)
  return {
    from: events[0]?.at ?? now,
    to: until,
    spans,
    holdWatches: spans
      .filter((span) => span.pattern === 'held')
      .map(({ from, to }) => ({ from, to })),
    cuts: input.cuts,
    rounds: input.rounds,
    added: (input.watch?.rounds ?? [])
      .filter((round) => round.lateMs > 0)
      .map((round) => ({
        from: round.restarted ? new Date(round.at.getTime() - round.addedMs) : round.dueAt,
        to: round.at,
        restarted: round.restarted,
      })),
    stoppedAt: stoppedAt(events),
  }
}

import { monitoringEndsAt, permitWatch } from './after-work'
import type { PermitFacts } from './types'

/** One of the four ends. `expected`: if all goes on as it does; `none`: nobody asked for it, or it has not begun. */
export type Instant = { kind: 'passed' | 'expected'; at: Date } | { kind: 'none' | 'not_begun' }

/** Four ends that are never one another: of the work, the watch, the monitoring, and the permit's validity. */
export interface FourInstants {
  workEnd: Instant
  watchEnd: Instant
  monitoringEnd: Instant
  permitEnd: Instant
}

const seen = (at: Date, now: Date): Instant => ({
  kind: at.getTime() <= now.getTime() ? 'passed' : 'expected',
  at,
})
const NOT_BEGUN: Instant = { kind: 'not_begun' }

function watchEnd(facts: PermitFacts, now: Date): Instant {
  const progress = permitWatch(facts, now)
  if (facts.duties?.watchRequired === false) return { kind: 'none' }
  if (!progress) return NOT_BEGUN
  if (progress.doneAt) return { kind: 'passed', at: progress.doneAt }
  return progress.endsAtIfWatched ? { kind: 'expected', at: progress.endsAtIfWatched } : NOT_BEGUN
}

function monitoringEnd(facts: PermitFacts, now: Date): Instant {
  if ((facts.duties?.monitoringMin ?? 0) === 0) return { kind: 'none' }
  const progress = permitWatch(facts, now)
  const at = progress ? monitoringEndsAt(facts, progress) : null
  return at ? seen(at, now) : NOT_BEGUN
}

/**
 * The four ends of a permit, each by its own clock.
 *
 * @param facts of one permit
 * @param now the database's clock
 */
export function fourInstants(facts: PermitFacts, now: Date): FourInstants {
  const { torchOutAt, expiredAt, validUntil, state } = facts
  const end = expiredAt ?? validUntil
  return {
    workEnd: torchOutAt && state !== 'open' ? { kind: 'passed', at: torchOutAt } : NOT_BEGUN,
    watchEnd: watchEnd(facts, now),
    monitoringEnd: monitoringEnd(facts, now),
    permitEnd: end ? seen(end, now) : NOT_BEGUN,
  }
}

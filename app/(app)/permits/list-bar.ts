import type { LyingBar } from '@/app/_components/bar/lying-types'
import type { PermitListRow } from '@/lib/data/permits/list'

const ms = (date: Date) => date.getTime()

/** The watch a held permit or a watch owes, as a bar; null while nothing is owed. */
export function watchBar(row: PermitListRow, nowMs: number): LyingBar | null {
  const { watch, torchOutAt, stoppedAt } = row
  if (!watch || !torchOutAt) return null
  const end = ms(watch.endsAt)
  const start = ms(torchOutAt)
  if (watch.isDone && end <= nowMs)
    return row.state === 'watch'
      ? { state: 'past-end', start, end }
      : { state: 'closed', start, end }
  const added = watch.addedMs > 0 ? { addedFrom: end - watch.addedMs } : {}
  if (watch.pausedSince) return { state: 'paused', start, end, ...added }
  if (stoppedAt) return { state: 'stopped', start, stoppedAt: ms(stoppedAt), end, ...added }
  return { state: 'running', start, end, ...added }
}

/** What a permit's row draws: its watch, its validity, or when it is planned. */
export function listBar(row: PermitListRow, nowMs: number): LyingBar | null {
  const { state, issuedAt, validUntil, closedAt } = row
  if (state === 'preparing' || state === 'cleared')
    return { state: 'not-begun', start: ms(row.plannedFrom), end: ms(row.plannedUntil) }
  if (state === 'watch') return watchBar(row, nowMs)
  if (!issuedAt || !validUntil) return null
  if (state === 'closed')
    return { state: 'closed', start: ms(issuedAt), end: ms(closedAt ?? validUntil) }
  const end = ms(validUntil)
  if (end <= nowMs) return { state: 'past-end', start: ms(issuedAt), end }
  return { state: state === 'held' ? 'held' : 'running', start: ms(issuedAt), end }
}

import 'server-only'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { surveyItems } from '@/lib/permit/survey'
import type { PermitState, WatchProgress } from '@/lib/permit/types'
import { watchProgress } from '@/lib/permit/watch'
import type { HotWorkProcess } from '@/lib/rules/conditions'
import { type OutfitContents, outfitsContents } from '../outfits-contents'
import { instant } from '../permits/facts'
import { readAreaFacts } from '../permits/frozen'
import { type NoticeToday, type PermitToday, readTodayRows } from './rows'

export type TodayPermit = Readonly<{
  id: string
  number: string
  state: PermitState
  areaName: string
  what: string
  operator: string
  watcher: string | null
  outfitId: string | null
  issuedAt: Date | null
  validUntil: Date | null
  lastCutBy: Date | null
  torchOutAt: Date | null
  stoppedAt: Date | null
  isStopped: boolean
  watch: Readonly<{
    endsAt: Date
    isDone: boolean
    pausedSince: Date | null
    addedMs: number
    /** A round is a whole interval late: nothing so far counts, the next starts it over. */
    isLost: boolean
    nextDueAt: Date | null
    nextNumber: number
    roundsDue: readonly Date[]
    gap: Readonly<{ from: Date; to: Date }> | null
  }> | null
  /** What the list is sorted by: held by its watch, the rest by their own end. */
  endsAt: Date
}>

/** Something that waits on the viewer. */
export type Waiting = Readonly<{
  kind:
    | 'clear'
    | 'gas_test'
    | 'sign_operator'
    | 'sign_watch'
    | 'sign_enter'
    | 'issue'
    | 'round'
    | 'close'
    | 'look'
  permitId: string
  number: string
  areaName: string
  answered: number
  total: number
  at: Date | null
}>

export type TodayNotice = Readonly<{
  id: string
  kind: string
  at: Date
  permitId: string | null
  number: string
  areaName: string
  words: string
}>

export type Today = Readonly<{
  now: Date
  permits: readonly TodayPermit[]
  outfits: readonly (OutfitContents & Readonly<{ isBurning: boolean }>)[]
  waiting: readonly Waiting[]
  notices: readonly TodayNotice[]
  can: Readonly<{ prepare: boolean; outside: boolean }>
}>

function progressOf(row: PermitToday, now: Date): WatchProgress | null {
  const torchOutAt = instant(row.torch_out_at)
  if (!torchOutAt || row.watch_minutes === null || row.round_interval_min === null) return null
  if (row.state !== 'held' && row.state !== 'watch') return null
  return watchProgress({
    torchOutAt,
    watchMin: row.watch_minutes,
    roundIntervalMin: row.round_interval_min,
    presence: row.stints.map((one) => ({ from: new Date(one.from_at), to: instant(one.to_at) })),
    roundsAt: row.rounds.map((one) => new Date(one.at)),
    now,
  })
}

function roundsToCome({ nextDueAt, done }: WatchProgress, endsAt: Date, stepMin: number): Date[] {
  if (done || !nextDueAt || stepMin <= 0) return []
  const count = Math.max(
    0,
    Math.ceil((endsAt.getTime() - nextDueAt.getTime()) / (stepMin * 60_000)),
  )
  return Array.from(
    { length: Math.min(count, 60) },
    (_, index) => new Date(nextDueAt.getTime() + index * stepMin * 60_000),
  )
}

function watchOf(
  row: PermitToday,
  progress: WatchProgress | null,
  now: Date,
): TodayPermit['watch'] {
  if (!progress) return null
  const endsAt = progress.doneAt ?? progress.endsAtIfWatched ?? now
  const late = progress.rounds.findLast((round) => round.lateMs >= 1000 && !round.restarted)
  const stepMs = (row.round_interval_min ?? 0) * 60_000
  const lateMs = progress.nextDueAt === null ? 0 : now.getTime() - progress.nextDueAt.getTime()
  const isLost = stepMs > 0 && lateMs >= stepMs
  return {
    endsAt,
    isDone: progress.done,
    pausedSince: progress.pausedSince,
    isLost,
    addedMs: isLost
      ? 0
      : Math.max(
          0,
          endsAt.getTime() - progress.anchorAt.getTime() - (row.watch_minutes ?? 0) * 60_000,
        ),
    nextDueAt: progress.nextDueAt,
    nextNumber:
      progress.rounds.filter((round) => !round.restarted && round.dueAt > progress.anchorAt)
        .length + 1,
    roundsDue: isLost ? [] : roundsToCome(progress, endsAt, row.round_interval_min ?? 0),
    gap: late ? { from: late.dueAt, to: late.at } : null,
  }
}

const numberOf = (row: PermitToday) => `${row.job_number}-${row.number}`

function toPermit(row: PermitToday, now: Date): TodayPermit {
  const watch = watchOf(row, progressOf(row, now), now)
  const validUntil = instant(row.valid_until)
  return {
    id: row.id,
    number: numberOf(row),
    state: row.state as PermitState, // a CHECK holds the column to these
    areaName: row.area,
    what: row.what,
    operator: row.operator,
    watcher: row.stints.findLast((one) => one.to_at === null)?.name ?? row.fire_watch,
    outfitId: row.outfit_id,
    issuedAt: instant(row.issued_at),
    validUntil,
    lastCutBy: instant(row.last_cut_by),
    torchOutAt: instant(row.torch_out_at),
    stoppedAt: instant(row.stopped_at),
    isStopped: row.stopped_at !== null,
    watch,
    endsAt: watch?.endsAt ?? validUntil ?? new Date(row.planned_from),
  }
}

type Scene = Readonly<{ viewer: Viewer; siteId: string; now: Date }>

/** What of a permit waits on this viewer, by what they may do and by whom it names. */
function waitingOn(
  row: PermitToday,
  permit: TodayPermit,
  { viewer, siteId, now }: Scene,
): Waiting[] {
  const may = (action: Parameters<typeof can>[1]) => can(viewer, action, siteId)
  const total = surveyItems({
    ...readAreaFacts(row.facts),
    process: row.process as HotWorkProcess, // as preparing a permit wrote it
  }).length
  const of = (kind: Waiting['kind'], at: Date | null = null): Waiting => ({
    kind,
    permitId: row.id,
    number: permit.number,
    areaName: row.area,
    answered: row.answered,
    total,
    at,
  })
  const isSigned = (act: string) => row.signed.includes(act)
  if (row.state === 'preparing')
    return may('permit:clear') ? [of('clear', new Date(row.planned_from))] : []
  if (row.state === 'cleared') {
    if (row.operator_id === viewer.personId && !isSigned('agree')) return [of('sign_operator')]
    if (row.fire_watch_id === viewer.personId && isSigned('agree') && !isSigned('acknowledge'))
      return [of('sign_watch')]
    const haveBoth = isSigned('agree') && (isSigned('acknowledge') || row.fire_watch_id === null)
    if (haveBoth && row.needs_entry && !isSigned('enter'))
      return row.may_enter && may('permit:sign') ? [of('sign_enter')] : []
    return haveBoth &&
      viewer.grants.some((grant) => grant.siteId === siteId && grant.role === 'pai')
      ? [of('issue')]
      : []
  }
  const { watch } = permit
  if (row.state === 'held')
    return may('permit:resume') && !row.is_mine_on ? [of('look')] : roundOf(row, watch, of, now)
  if (row.state !== 'watch') return []
  if (watch?.isDone) return may('permit:close') ? [of('close', watch.endsAt)] : []
  return roundOf(row, watch, of, now)
}

const SOON_MS = 2 * 60_000

function roundOf(
  row: PermitToday,
  watch: TodayPermit['watch'],
  of: (kind: Waiting['kind'], at: Date | null) => Waiting,
  now: Date,
): Waiting[] {
  const dueAt = watch?.nextDueAt ?? null
  return row.is_mine_on && dueAt && dueAt.getTime() - SOON_MS <= now.getTime()
    ? [of('round', dueAt)]
    : []
}

const toNotice = (row: NoticeToday): TodayNotice => ({
  id: row.id,
  kind: row.kind,
  at: new Date(row.at),
  permitId: row.permit_id,
  number: row.permit_number ?? '',
  areaName: row.area ?? '',
  words: row.words ?? '',
})

/** Everything at one site that runs, sorted by what ends first, and what waits on the viewer there. */
export async function getToday(viewer: Viewer, siteId: string): Promise<Today> {
  assertCan(viewer, 'site:read', siteId)
  const rows = await readTodayRows(siteId, viewer.personId)
  const now = new Date(rows.now)
  const mayReadPermits = can(viewer, 'permit:read', siteId)
  const permits = mayReadPermits ? rows.permits.map((row) => toPermit(row, now)) : []
  const burning = new Set(
    rows.permits.filter((row) => row.state === 'open').map((row) => row.outfit_id),
  )
  const outfitIds = [
    ...new Set(
      rows.permits
        .filter((row) => row.state === 'open' || row.state === 'held')
        .map((row) => row.outfit_id),
    ),
  ].filter((id) => id !== null)
  const outfits =
    outfitIds.length === 0 ? [] : await outfitsContents(viewer, siteId, outfitIds, now)
  return {
    now,
    permits: permits
      .filter((one) => one.state === 'open' || one.state === 'held' || one.state === 'watch')
      .toSorted((a, b) => a.endsAt.getTime() - b.endsAt.getTime()),
    outfits: outfits.map((outfit) => ({ ...outfit, isBurning: burning.has(outfit.outfitId) })),
    waiting: mayReadPermits
      ? rows.permits.flatMap((row, index) =>
          permits[index] ? waitingOn(row, permits[index], { viewer, siteId, now }) : [],
        )
      : [],
    notices: rows.notices.map(toNotice),
    can: {
      prepare: can(viewer, 'permit:prepare', siteId),
      outside: can(viewer, 'work:outside', siteId),
    },
  }
}

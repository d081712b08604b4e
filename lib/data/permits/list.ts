import 'server-only'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { PermitState } from '@/lib/permit/types'
import { watchProgress } from '@/lib/permit/watch'
import type { PermitFilter } from '@/lib/schemas/permit'
import { db } from '../client'
import { readNow } from '../cylinders'
import type { Prisma } from '../generated/client'

const PAGE = 50

const STATES_OF: Readonly<Record<PermitFilter, readonly PermitState[]>> = {
  now: ['preparing', 'cleared', 'open', 'held', 'watch'],
  preparing: ['preparing', 'cleared'],
  watch: ['held', 'watch'],
  ended: ['closed', 'withdrawn'],
  all: ['preparing', 'cleared', 'open', 'held', 'watch', 'closed', 'withdrawn'],
}

const ROW_COLUMNS = {
  id: true,
  siteId: true,
  number: true,
  state: true,
  stateAt: true,
  what: true,
  createdAt: true,
  plannedFrom: true,
  plannedUntil: true,
  operatorId: true,
  fireWatchId: true,
  issuedAt: true,
  validUntil: true,
  lastCutBy: true,
  torchOutAt: true,
  stoppedAt: true,
  closedAt: true,
  watchMinutes: true,
  roundIntervalMin: true,
  surveyNo: true,
  area: { select: { name: true } },
  job: { select: { number: true } },
} as const

export type PermitListRow = Readonly<{
  id: string
  siteId: string
  number: string
  state: PermitState
  stateAt: Date
  isStopped: boolean
  what: string
  areaName: string
  operatorName: string
  watcherName: string | null
  plannedFrom: Date
  plannedUntil: Date
  issuedAt: Date | null
  validUntil: Date | null
  lastCutBy: Date | null
  torchOutAt: Date | null
  stoppedAt: Date | null
  closedAt: Date | null
  /** Of a held permit or a watch: when it may end if someone watches; null while nothing is owed. */
  watch: Readonly<{
    endsAt: Date
    isDone: boolean
    pausedSince: Date | null
    addedMs: number
    nextDueAt: Date | null
  }> | null
}>

export type PermitListPage = Readonly<{
  now: Date
  rows: readonly PermitListRow[]
  next: string | null
}>

function findPermits(where: Prisma.PermitWhereInput, take: number) {
  return db.permit.findMany({
    where,
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take,
    select: ROW_COLUMNS,
  })
}

type Found = Awaited<ReturnType<typeof findPermits>>[number]

interface Cursor {
  createdAt: Date
  id: string
}

function readCursor(text: string | null): Cursor | null {
  const [at, id] = text?.split('~') ?? []
  const createdAt = at ? new Date(at) : null
  if (!createdAt || Number.isNaN(createdAt.getTime()) || !id || !/^[0-9a-f-]{36}$/.test(id))
    return null
  return { createdAt, id }
}

/** Who watched these permits and when they made their rounds, in two queries. */
export async function readDuties(permitIds: string[]) {
  const [stints, rounds, owed] = await Promise.all([
    db.stint.findMany({
      where: { permitId: { in: permitIds }, role: 'fire_watch' },
      select: { permitId: true, personId: true, fromAt: true, toAt: true },
      orderBy: { fromAt: 'asc' },
    }),
    db.round.findMany({
      // A round that left a code unscanned is no presence.
      where: {
        permitId: { in: permitIds },
        NOT: { posts: { array_contains: [{ scanned: false }] } },
      },
      select: { permitId: true, at: true },
    }),
    db.$queryRaw<{ id: string; minutes: number | null }[]>`
      SELECT p.id, kerf_watch_owed(p) AS minutes FROM permits p WHERE p.id = ANY(${permitIds}::uuid[])`,
  ])
  return { stints, rounds, owed: new Map(owed.map((one) => [one.id, one.minutes])) }
}

type Duties = Awaited<ReturnType<typeof readDuties>>
type StoredRow = Readonly<{
  id: string
  torchOutAt: Date | null
  watchMinutes: number | null
  roundIntervalMin: number | null
  state: string
}>

/** What a held permit or a watch owes at this moment. */
export function watchOf(row: StoredRow, duties: Duties, now: Date): PermitListRow['watch'] {
  if (!row.torchOutAt || !row.watchMinutes || !row.roundIntervalMin) return null
  if (row.state !== 'held' && row.state !== 'watch') return null
  const progress = watchProgress({
    torchOutAt: row.torchOutAt,
    watchMin: duties.owed.get(row.id) ?? row.watchMinutes,
    roundIntervalMin: row.roundIntervalMin,
    presence: duties.stints
      .filter((s) => s.permitId === row.id)
      .map((s) => ({ from: s.fromAt, to: s.toAt })),
    roundsAt: duties.rounds.filter((round) => round.permitId === row.id).map((round) => round.at),
    now,
  })
  return {
    endsAt: progress.doneAt ?? progress.endsAtIfWatched ?? now,
    isDone: progress.done,
    pausedSince: progress.pausedSince,
    addedMs: progress.addedMs,
    nextDueAt: progress.nextDueAt,
  }
}

/** Rows as a list shows them, with their watches and people, in three more queries. */
async function toRows(shown: readonly Found[], now: Date): Promise<PermitListRow[]> {
  const burning = shown
    .filter((row) => row.state === 'held' || row.state === 'watch')
    .map((row) => row.id)
  const duties = await readDuties(burning)
  const watcherOf = (row: Found) =>
    duties.stints.findLast((stint) => stint.permitId === row.id)?.personId ?? row.fireWatchId
  const ids = shown.flatMap((row) => [row.operatorId, watcherOf(row)]).filter((id) => id !== null)
  const people = await db.person.findMany({
    where: { id: { in: [...new Set(ids)] } },
    select: { id: true, name: true },
  })
  const names = new Map(people.map((person) => [person.id, person.name]))
  return shown.map((row) => {
    const { area, job, number, operatorId, ...rest } = row
    const watcherId = watcherOf(row)
    return {
      id: rest.id,
      siteId: rest.siteId,
      number: `${job.number}-${number}`,
      state: rest.state as PermitState, // a CHECK holds the column to these
      stateAt: rest.stateAt,
      isStopped: rest.stoppedAt !== null,
      what: rest.what,
      areaName: area.name,
      operatorName: names.get(operatorId) ?? '',
      watcherName: watcherId ? (names.get(watcherId) ?? null) : null,
      plannedFrom: rest.plannedFrom,
      plannedUntil: rest.plannedUntil,
      issuedAt: rest.issuedAt,
      validUntil: rest.validUntil,
      lastCutBy: rest.lastCutBy,
      torchOutAt: rest.torchOutAt,
      stoppedAt: rest.stoppedAt,
      closedAt: rest.closedAt,
      watch: watchOf(row, duties, now),
    }
  })
}

/** Permits of a site, newest first, a page at a time. */
export async function listPermits(
  viewer: Viewer,
  {
    siteId,
    filter,
    after,
  }: Readonly<{ siteId: string; filter: PermitFilter; after: string | null }>,
): Promise<PermitListPage> {
  if (!can(viewer, 'permit:read', siteId)) throw new AppError('NOT_FOUND')
  const cursor = readCursor(after)
  const older = cursor
    ? {
        OR: [
          { createdAt: { lt: cursor.createdAt } },
          { createdAt: cursor.createdAt, id: { lt: cursor.id } },
        ],
      }
    : {}
  const [found, now] = await Promise.all([
    findPermits({ siteId, state: { in: [...STATES_OF[filter]] }, ...older }, PAGE + 1),
    readNow(),
  ])
  const shown = found.slice(0, PAGE)
  const last = found.length > PAGE ? shown.at(-1) : undefined
  return {
    now,
    next: last ? `${last.createdAt.toISOString()}~${last.id}` : null,
    rows: await toRows(shown, now),
  }
}

import 'server-only'
import { z } from 'zod'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { type FourInstants, fourInstants } from '@/lib/permit/instants'
import { permitTimeline, type Timeline } from '@/lib/permit/timeline'
import type { PermitEventKind } from '@/lib/permit/types'
import { RULESETS } from '@/lib/rules/layers'
import { keepUntil, type Retention } from '@/lib/rules/retention'
import { type ChainVerdict, lastChainCheck } from '../chain-checks'
import { db } from '../client'
import { type PermitContext, personName, readPermitContext } from '../permits/context'
import { type PermitHead, toHead } from '../permits/head'
import {
  PAGE_OF_ENTRIES,
  peopleIn,
  type RecordEntry,
  readRefused,
  readStored,
  toEntry,
} from './entries'

export type RuleThen = Readonly<{
  citation: string
  minutes: number | null
  statement: boolean
  isSetter: boolean
}>

export type PermitRecord = Readonly<{
  head: PermitHead
  now: Date
  endedAt: Date | null
  stopCode: string
  timeline: Timeline & Readonly<{ stoppedAt: Date | null }>
  /** The minutes added at the end of the last watch, as a band. */
  addedMs: number
  watchDoneAt: Date | null
  instants: FourInstants
  entries: readonly RecordEntry[]
  total: number
  next: number | null
  verdict: ChainVerdict | null
  signedBy: readonly Readonly<{ name: string; times: number }>[]
  gasTest: Readonly<{
    at: Date
    oxygenPct: number
    lelPct: number
    coPpm: number | null
    h2sPpm: number | null
  }> | null
  rules: readonly RuleThen[]
  watchMin: number
  /** Until when it must be kept, and by which text; null while it runs and where none says. */
  keep: Retention | null
  corrections: number
  sentLate: number
}>

const evaluationSchema = z.object({
  evaluation: z.object({
    perLayer: z.array(
      z.object({
        layerId: z.string(),
        postWatchMin: z.number().nullable(),
        statementRequired: z.boolean(),
      }),
    ),
  }),
})

/** Minutes that each layer asked for when the permit was issued; empty before it was. */
function rulesThen(context: PermitContext): RuleThen[] {
  const frozen = evaluationSchema.safeParse(context.bundle.permit.frozen)
  if (!frozen.success) return []
  const setBy = context.duties.watchMin
  const rows = frozen.data.evaluation.perLayer.map((one): RuleThen => {
    const layer =
      context.layers.find(({ id }) => id === one.layerId) ??
      RULESETS[one.layerId as keyof typeof RULESETS]
    return {
      citation: layer?.citation ?? one.layerId,
      minutes: one.postWatchMin,
      statement: one.statementRequired,
      isSetter: one.postWatchMin === setBy && setBy > 0,
    }
  })
  return rows.toSorted((a, b) => (b.minutes ?? -1) - (a.minutes ?? -1))
}

function signedBy(context: PermitContext): PermitRecord['signedBy'] {
  const counts = new Map<string, number>()
  for (const one of context.facts.signatures)
    counts.set(one.personId, (counts.get(one.personId) ?? 0) + 1)
  return [...counts].map(([id, times]) => ({ name: personName(context, id), times }))
}

async function timelineOf({ bundle, facts, watch, now }: PermitContext) {
  const logs = await db.hotWorkLog.findMany({
    where: { permitId: bundle.permit.id },
    select: { fromAt: true, toAt: true, late: true, correctsId: true },
    orderBy: { fromAt: 'asc' },
    take: 500,
  })
  const timeline = permitTimeline({
    events: bundle.events.map((event) => ({
      kind: event.kind as PermitEventKind,
      at: new Date(event.at),
    })),
    cuts: logs.map(({ fromAt, toAt }) => ({ from: fromAt, to: toAt })),
    rounds: bundle.rounds.map((round) => ({
      at: new Date(round.at),
      lateMs: round.late_ms,
      worst: round.worst as 'clear' | 'warm' | 'smoke',
    })),
    watch: facts.state === 'open' ? null : watch,
    now,
  })
  return {
    timeline,
    corrections: logs.filter((log) => log.correctsId !== null).length,
    sentLate: logs.filter((log) => log.late).length,
  }
}

async function namesOf(ids: readonly string[]): Promise<Map<string, string>> {
  const people = await db.person.findMany({
    where: { id: { in: [...ids] } },
    select: { id: true, name: true },
  })
  return new Map(people.map((person) => [person.id, person.name]))
}

async function readEntries(wanted: Parameters<typeof readStored>[0]) {
  const stored = await readStored(wanted)
  const shown = stored.slice(0, PAGE_OF_ENTRIES)
  const isMore = stored.length > PAGE_OF_ENTRIES
  const [names, refused] = await Promise.all([
    namesOf(peopleIn(shown)),
    readRefused(
      wanted.permitId,
      wanted.after > 0 ? (shown[0]?.at ?? null) : null,
      isMore ? (stored.at(-1)?.at ?? null) : null,
    ),
  ])
  const entries = [...shown.map((one) => toEntry(one, names)), ...refused].toSorted(
    (a, b) => a.at.getTime() - b.at.getTime(),
  )
  return { entries, next: isMore ? Number(shown.at(-1)?.seq ?? 0) : null }
}

export type RecordWanted = Readonly<{ permitId: string; isAll: boolean; after: number }>

/** One permit's whole record: its life on the clock, its entries as the chain holds them, and what proves them. */
export async function getRecord(
  viewer: Viewer,
  { permitId, isAll, after }: RecordWanted,
): Promise<PermitRecord> {
  const context = await readPermitContext(viewer, permitId)
  const { facts, bundle, watch } = context
  assertCan(viewer, 'record:read', facts.siteId)
  const [read, life, verdict, total] = await Promise.all([
    readEntries({ siteId: facts.siteId, permitId, jobId: bundle.job.id, isAll, after }),
    timelineOf(context),
    lastChainCheck(facts.siteId),
    db.auditEntry.count({ where: { chain: facts.siteId, subjectId: permitId } }),
  ])
  const test = bundle.gas_tests.at(-1)
  const ended = bundle.permit.closed_at ?? bundle.permit.withdrawn_at
  return {
    head: toHead(context),
    now: context.now,
    endedAt: ended ? new Date(ended) : null,
    stopCode: bundle.permit.stop_code,
    ...life,
    addedMs: watch && facts.state !== 'open' ? watch.addedMs : 0,
    watchDoneAt: watch?.doneAt ?? null,
    instants: fourInstants(facts, context.now),
    ...read,
    total,
    verdict,
    signedBy: signedBy(context),
    gasTest: test
      ? {
          at: new Date(test.at),
          oxygenPct: test.oxygen_pct,
          lelPct: test.lel_pct,
          coPpm: test.co_ppm,
          h2sPpm: test.h2s_ppm,
        }
      : null,
    rules: rulesThen(context),
    watchMin: context.duties.watchMin,
    keep: ended
      ? keepUntil({
          endedAt: new Date(ended),
          keepRecordsHours: context.parameters.keepRecordsHours,
          hasEntryPermit: bundle.permit.entry_permit !== null,
          hasToxicReading: bundle.gas_tests.some(
            (one) => one.co_ppm !== null || one.h2s_ppm !== null,
          ),
        })
      : null,
  }
}

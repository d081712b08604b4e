import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { ShopTip } from '@/lib/calc/opened-cut'
import type { TipChart } from '@/lib/calc/tables/tip-chart'
import { UNITS } from '@/lib/calc/units'
import { AppError } from '@/lib/errors'
import type { EditJobInput, NewJobInput } from '@/lib/schemas/job'
import { listSettingsSchema } from '@/lib/schemas/list-settings'
import { MOST_CUTS } from '@/lib/schemas/sheet-save'
import { db } from './client'
import { once } from './client-keys'
import { CUT_COLUMNS, type CutRow, toCutRow } from './cut-rows'
import { siteNorms } from './estimate-norms'
import { readSiteSupply } from './estimate-supply'
import { type CutListEstimate, estimateList, type HeaviestPiece, heaviestPiece } from './estimates'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

const PAGE = 50

type Gas90 = Readonly<{ meanKg: number; low90Kg: number; high90Kg: number }>

export type JobSummary = Readonly<{
  id: string
  number: string
  title: string
  state: 'planned' | 'running' | 'done' | 'dropped'
  plannedStart: Date
  plannedEnd: Date
  crewName: string | null
  cutsLeft: number
  cutsInAll: number
  refusedCuts: number
  fuel: string | null
  oxygen: Gas90 | null
  fuelGas: Gas90 | null
  heaviest: HeaviestPiece | null
}>

const JOB_COLUMNS = {
  id: true,
  siteId: true,
  number: true,
  title: true,
  state: true,
  plannedStart: true,
  plannedEnd: true,
  chanceToRun: true,
  crewId: true,
  createdAt: true,
  version: true,
  crew: { select: { name: true } },
  site: { select: { name: true, zone: true } },
  cutLists: {
    orderBy: { id: 'asc' },
    take: 1,
    select: {
      id: true,
      title: true,
      fuel: true,
      process: true,
      settings: true,
      version: true,
      cuts: { select: CUT_COLUMNS, orderBy: { ordinal: 'asc' }, take: MOST_CUTS },
    },
  },
} as const

type StoredList = Readonly<{
  id: string
  fuel: string
  process: string
  settings: unknown
  version: number
  cuts: readonly unknown[]
}>

function toList<T extends StoredList>(list: T) {
  const cuts = list.cuts.map((cut) => toCutRow(cut as Parameters<typeof toCutRow>[0]))
  return {
    id: list.id,
    fuel: list.fuel,
    process: list.process === 'machine' ? ('machine' as const) : ('hand' as const),
    settings: listSettingsSchema.parse(list.settings),
    version: list.version,
    cuts,
  }
}

const toState = (state: string) => state as JobSummary['state'] // a CHECK holds the column to these

const toGas90 = (gas: { mean: number; low90: number; high90: number } | undefined): Gas90 | null =>
  gas ? { meanKg: gas.mean, low90Kg: gas.low90, high90Kg: gas.high90 } : null

export type JobPage = Readonly<{ jobs: readonly JobSummary[]; next: string | null }>

/** Planned and running jobs of a site, the earliest first, each with what is left to burn. */
export async function listJobs(
  viewer: Viewer,
  siteId: string,
  after: string | null = null,
): Promise<JobPage> {
  assertCan(viewer, 'job:read', siteId)
  const [afterDay, afterId] = after?.split('~') ?? []
  const day = afterDay ? new Date(`${afterDay}T00:00:00Z`) : null
  const later =
    day && afterId
      ? { OR: [{ plannedStart: { gt: day } }, { plannedStart: day, id: { gt: afterId } }] }
      : {}
  const [rows, supply, norms] = await Promise.all([
    db.job.findMany({
      where: { siteId, state: { in: ['planned', 'running'] }, ...later },
      orderBy: [{ plannedStart: 'asc' }, { id: 'asc' }],
      take: PAGE + 1,
      select: JOB_COLUMNS,
    }),
    readSiteSupply(siteId),
    siteNorms(db, siteId),
  ])
  const shown = rows.slice(0, PAGE)
  const last = rows.length > PAGE ? shown.at(-1) : undefined
  return {
    jobs: shown.map((job) => {
      const list = job.cutLists[0] ? toList(job.cutLists[0]) : null
      const estimate = list ? estimateList(list, supply, norms(job.crewId, list.fuel)) : null
      return summarise(job, list, estimate)
    }),
    next: last ? `${last.plannedStart.toISOString().slice(0, 10)}~${last.id}` : null,
  }
}

type JobColumns = Omit<
  JobSummary,
  | 'state'
  | 'crewName'
  | 'cutsLeft'
  | 'cutsInAll'
  | 'refusedCuts'
  | 'fuel'
  | 'oxygen'
  | 'fuelGas'
  | 'heaviest'
> & {
  state: string
  crew: { name: string } | null
}

function summarise(
  job: JobColumns,
  list: ReturnType<typeof toList> | null,
  estimate: CutListEstimate | null,
): JobSummary {
  const cuts: readonly CutRow[] = list?.cuts ?? []
  const left = cuts.map((cut) => Math.max(0, cut.count - cut.doneCount))
  return {
    id: job.id,
    number: job.number,
    title: job.title,
    state: toState(job.state),
    plannedStart: job.plannedStart,
    plannedEnd: job.plannedEnd,
    crewName: job.crew?.name ?? null,
    cutsLeft: left.reduce((sum, count) => sum + count, 0),
    cutsInAll: cuts.reduce((sum, cut) => sum + cut.count, 0),
    refusedCuts: Object.keys(estimate?.refusedCuts ?? {}).length,
    fuel: list?.fuel ?? null,
    oxygen: toGas90(estimate?.result?.oxygen),
    fuelGas: toGas90(estimate?.result?.fuelGas),
    heaviest: heaviestPiece(cuts),
  }
}

export type JobDetail = Readonly<{
  id: string
  siteId: string
  siteName: string
  zone: string
  number: string
  title: string
  state: JobSummary['state']
  plannedStart: Date
  plannedEnd: Date
  chanceToRun: number
  crewId: string | null
  crewName: string | null
  version: number
  list: (ReturnType<typeof toList> & { estimate: CutListEstimate }) | null
  /** The shop's own chart that the crew's outfit is set by; null is the built-in table. */
  chart: TipChart | null
  /** The shop's own tip numbers, by orifice: only beside the shop's own chart. */
  tips: readonly ShopTip[]
  mayWrite: boolean
  mayKeep: boolean
  mayPrepare: boolean
  mayOrder: boolean
}>

/** The tips that a chart names, by the middle of their orifice. */
function tipsOf(chart: TipChart | null): ShopTip[] {
  return (chart?.rows ?? []).flatMap(({ tip, orificeIn }) =>
    tip && orificeIn
      ? [{ shopTip: tip, orificeM: ((orificeIn[0] + orificeIn[1]) / 2) * UNITS.in.toBase }]
      : [],
  )
}

/** One job with its cut list and what that still takes; another site's job answers NOT_FOUND. */
export async function getJob(viewer: Viewer, jobId: string): Promise<JobDetail> {
  const where = { id: jobId, siteId: { in: sitesWhere(viewer, 'job:read') } }
  const job = await db.job.findFirst({ where, select: JOB_COLUMNS })
  if (!job) throw new AppError('NOT_FOUND')
  const list = job.cutLists[0] ? toList(job.cutLists[0]) : null
  const { siteId, crewId } = job
  const [supply, normsOf] = await Promise.all([readSiteSupply(siteId), siteNorms(db, siteId)])
  const norms = normsOf(crewId, list?.fuel ?? '')
  const { chart } = norms
  const { crew, site, cutLists: _lists, createdAt: _created, ...rest } = job
  return {
    ...rest,
    state: toState(job.state),
    siteName: site.name,
    zone: site.zone,
    crewName: crew?.name ?? null,
    list: list ? { ...list, estimate: estimateList(list, supply, norms) } : null,
    chart,
    tips: tipsOf(chart),
    mayWrite: can(viewer, 'job:write', job.siteId),
    mayKeep: can(viewer, 'estimate:keep', job.siteId),
    mayPrepare: can(viewer, 'permit:prepare', job.siteId),
    mayOrder: can(viewer, 'order:confirm', job.siteId),
  }
}

export type JobFormChoices = Readonly<{
  sites: readonly { id: string; name: string }[]
  crews: readonly { id: string; name: string; siteId: string }[]
}>

/** Where the viewer may plan a job, and who could do it. */
export async function jobFormChoices(viewer: Viewer): Promise<JobFormChoices> {
  const siteIds = sitesWhere(viewer, 'job:write')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'job:write' })
  const [sites, crews] = await Promise.all([
    db.site.findMany({
      where: { id: { in: siteIds } },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
    db.crew.findMany({
      where: { siteId: { in: siteIds } },
      orderBy: { name: 'asc' },
      select: { id: true, name: true, siteId: true },
      take: 100,
    }),
  ])
  return { sites, crews }
}

/** A job is given a crew of its own site; another's is not there. */
async function assertCrewOf(tx: Tx, siteId: string, crewId: string | null): Promise<void> {
  if (crewId === null) return
  if ((await tx.crew.count({ where: { id: crewId, siteId } })) === 0)
    throw new AppError('NOT_FOUND')
}

/** Plans a job with an empty cut list. */
export async function createJob(viewer: Viewer, input: NewJobInput): Promise<{ id: string }> {
  roleThen(viewer, 'job:write', input.siteId)
  const { key, fuel, process, chancePercent, ...job } = input
  return inTransaction(viewer, 'job:create', (tx) =>
    once(tx, viewer, { key, action: 'job:create', input }, async () => {
      const taken = await tx.job.findUnique({ where: { number: job.number }, select: { id: true } })
      if (taken) throw new AppError('JOB_NUMBER_TAKEN', { number: job.number })
      await assertCrewOf(tx, job.siteId, job.crewId)
      const id = uuidv7()
      await tx.job.create({
        data: { ...job, id, chanceToRun: chancePercent, createdBy: viewer.personId },
        select: { id: true },
      })
      await tx.cutList.create({
        data: { id: uuidv7(), siteId: job.siteId, jobId: id, title: job.title, fuel, process },
        select: { id: true },
      })
      return { id }
    }),
  )
}

/** Changes what describes a job. Its number, site and state stay. */
export async function updateJob(viewer: Viewer, input: EditJobInput): Promise<{ id: string }> {
  const found = await db.job.findFirst({
    where: { id: input.jobId },
    select: { siteId: true, crewId: true },
  })
  if (!found) throw new AppError('NOT_FOUND')
  roleThen(viewer, 'job:write', found.siteId)
  return inTransaction(viewer, 'job:edit', (tx) =>
    once(tx, viewer, { key: input.key, action: 'job:edit', input }, async () => {
      // A crew that was lent to the job stays with it.
      if (input.crewId !== found.crewId) await assertCrewOf(tx, found.siteId, input.crewId)
      const { count } = await tx.job.updateMany({
        where: { id: input.jobId, version: input.version },
        data: {
          title: input.title,
          crewId: input.crewId,
          plannedStart: input.plannedStart,
          plannedEnd: input.plannedEnd,
          chanceToRun: input.chancePercent,
          version: { increment: 1 },
        },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: input.jobId }
    }),
  )
}

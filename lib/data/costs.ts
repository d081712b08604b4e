import 'server-only'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { gasDrawn } from '@/lib/calc/gas-drawn'
import {
  type HoldingCost,
  type HoldingInput,
  holdingCost,
  spansOfDays,
} from '@/lib/calc/holding-cost'
import { AppError } from '@/lib/errors'
import { localDay } from '@/lib/format/local-time'
import { db } from './client'
import { readDrawnEntries, readJobCylinders, readJobDays, readLost, readPrices } from './costs-rows'
import { readNow } from './cylinders'
import { readStays } from './rent-stays'
import { readTermsUntil, type TermsRow } from './rent-terms'

const DAY_MS = 86_400_000
type Period = Readonly<{ fromDay: number; toDay: number }>

export type JobCostRow = Readonly<{ id: string; number: string; title: string; cost: HoldingCost }>
export type SiteCost = Readonly<{
  currency: string
  cost: HoldingCost
  jobs: readonly JobCostRow[]
  deposits: Readonly<{ cylinders: number; minor: number; withoutTerms: number }>
}>

async function readSite(siteId: string) {
  const [site, company, now] = await Promise.all([
    db.site.findUnique({ where: { id: siteId }, select: { zone: true } }),
    db.company.findFirstOrThrow({ select: { currency: true } }),
    readNow(),
  ])
  if (!site) throw new AppError('NOT_FOUND')
  const today = Date.parse(localDay(now, site.zone)) / DAY_MS
  return { siteId, zone: site.zone, currency: company.currency, today }
}
type SiteHead = Awaited<ReturnType<typeof readSite>>

/** Everything that costs at a site in a period, before it is shared out; of a job, what its cylinders cost. */
async function readCosting({ siteId, zone }: SiteHead, period: Period, jobId: string | null) {
  const jobDays = await readJobDays(siteId, zone, period)
  const only =
    jobId === null
      ? null
      : [
          ...new Set([
            ...(await readJobCylinders(jobId)),
            ...jobDays.filter((row) => row.jobId === jobId).map((row) => row.cylinderId),
          ]),
        ]
  const [stays, terms, entries, lost, prices] = await Promise.all([
    readStays(siteId, only),
    readTermsUntil(siteId, period.toDay),
    readDrawnEntries(siteId, zone, { ...period, only }),
    readLost(siteId, zone, period),
    readPrices(),
  ])
  const sizeOf = new Map(entries.map((entry) => [entry.cylinderId, entry]))
  const drawn = gasDrawn(entries)
    .filter((one) => one.siteId === siteId && isIn(one.day, period))
    .map((one) => {
      const of = sizeOf.get(one.cylinderId)
      return { ...one, minorPerKg: of ? prices(of, one.day) : null }
    })
  return { stays, terms, drawn, lost, jobDays, lastDay: period.toDay }
}
type Costing = Awaited<ReturnType<typeof readCosting>>

const isIn = (day: number, { fromDay, toDay }: Period) => day >= fromDay && day <= toDay

function lostOf(costing: Costing, jobId: string | null): HoldingInput['lost'] {
  return costing.lost
    .filter((one) => jobId === null || one.jobId === jobId)
    .map((one) => ({
      count: one.count,
      depositMinor: costing.terms.on(one, one.day)?.depositMinor ?? null,
    }))
}

function costOfSite(costing: Costing, period: Period): HoldingCost {
  const held = costing.stays.map((stay) => ({
    stay,
    terms: costing.terms.of(stay),
    spans: [period],
  }))
  return holdingCost({ held, drawn: costing.drawn, lost: lostOf(costing, null) })
}

/** A job's: the days that its permits had the outfits on which cylinders hung, and what it drew. */
function costOfJob(costing: Costing, jobId: string): HoldingCost {
  const days = new Map(
    costing.jobDays
      .filter((row) => row.jobId === jobId)
      .map((row) => [row.cylinderId, spansOfDays(row.days)]),
  )
  const held = costing.stays.flatMap((stay) => {
    const spans = days.get(stay.cylinderId)
    return spans ? [{ stay, terms: costing.terms.of(stay), spans }] : []
  })
  const drawn = costing.drawn.filter((one) => one.jobId === jobId)
  return holdingCost({ held, drawn, lost: lostOf(costing, jobId) })
}

/** What suppliers hold for the rented cylinders that stand there now. */
function depositsOf({ stays, terms, lastDay }: Costing): SiteCost['deposits'] {
  const standing = stays
    .filter((stay) => stay.toDay === null)
    .map((stay) => terms.on(stay, lastDay))
  const known = standing.filter((own): own is TermsRow => own !== null)
  return {
    cylinders: known.length,
    minor: known.reduce((sum, own) => sum + own.depositMinor, 0),
    withoutTerms: standing.length - known.length,
  }
}

/** What a site's cylinders cost from one day to another, both included, and each job's part of it. */
export async function getSiteCost(
  viewer: Viewer,
  siteId: string,
  asked: Period,
): Promise<SiteCost> {
  assertCan(viewer, 'order:read', siteId)
  const site = await readSite(siteId)
  const period = { ...asked, toDay: Math.max(asked.fromDay, Math.min(asked.toDay, site.today)) }
  const costing = await readCosting(site, period, null)
  const jobIds = new Set(
    [...costing.jobDays, ...costing.drawn, ...costing.lost].flatMap((one) => one.jobId ?? []),
  )
  const jobs = await db.job.findMany({
    where: { id: { in: [...jobIds] }, siteId },
    orderBy: { number: 'asc' },
    select: { id: true, number: true, title: true },
  })
  return {
    currency: site.currency,
    cost: costOfSite(costing, period),
    jobs: jobs.map((job) => ({ ...job, cost: costOfJob(costing, job.id) })),
    deposits: depositsOf(costing),
  }
}

/** What a job has cost so far; null where the viewer reads no orders. */
export async function getJobCost(
  viewer: Viewer,
  jobId: string,
): Promise<Readonly<{ currency: string; cost: HoldingCost }> | null> {
  const job = await db.job.findUnique({ where: { id: jobId }, select: { siteId: true } })
  if (!job) throw new AppError('NOT_FOUND')
  if (!can(viewer, 'order:read', job.siteId)) return null
  const site = await readSite(job.siteId)
  const { _min: first } = await db.permit.aggregate({
    where: { jobId, issuedAt: { not: null } },
    _min: { issuedAt: true },
  })
  if (!first.issuedAt) return null
  const fromDay = Date.parse(localDay(first.issuedAt, site.zone)) / DAY_MS
  const period = { fromDay, toDay: Math.max(fromDay, site.today) }
  const costing = await readCosting(site, period, jobId)
  return { currency: site.currency, cost: costOfJob(costing, jobId) }
}

export const monthOf = (month: string): Period => {
  const first = new Date(`${month}-01T00:00:00.000Z`)
  const after = Date.UTC(first.getUTCFullYear(), first.getUTCMonth() + 1, 1)
  return { fromDay: first.getTime() / DAY_MS, toDay: after / DAY_MS - 1 }
}

import { writeChange } from '../records/scribe'
import type { SizeId } from '../reference'
import { addDays, atLocal, localDay, weekdayOf } from '../zones'
import { type Faults, plantLeak, plantMistypedReading, plantWorkOutside, tendLeaks } from './faults'
import { type JobPlan, keepEstimate, openJob, type RunningJob } from './jobs'
import { TEAMS } from './people'
import { playPermitDay } from './permit-day'
import type { PermitRun } from './permit-life'
import { SITES, type SiteKey, siteOf } from './places'
import { type JobSlot, planJobs } from './schedule'
import {
  deliveryMs,
  type OpenOrder,
  placeOrder,
  receiveDelivery,
  sendBack,
  shortfall,
} from './stock'
import { PLANNED } from './work'
import { HISTORY_DAYS, personId, type World } from './world'
import { takeStock, tendYard, writeShopJob } from './yard'

const COMPANY_ZONE = 'America/New_York'
const HOUR = 3_600_000
/** Late enough for the harbor's long job, early enough that every truck has been before today. */
const lastOrdered = (site: SiteKey) => (site === 'harbor' ? -7 : -10)

/** What is left on site before today, so that some run short within days. */
const KEPT: readonly Readonly<{ site: SiteKey; size: SizeId; keep: number }>[] = [
  { site: 'mill', size: 'oxygen-244', keep: 4 },
  { site: 'viaduct', size: 'oxygen-244', keep: 8 },
  { site: 'dam', size: 'oxygen-244', keep: 3 },
  { site: 'depot', size: 'oxygen-330', keep: 2 },
]

export type HistoryState = {
  readonly orders: OpenOrder[]
  readonly jobs: Map<string, RunningJob>
  readonly faults: Faults
  readonly planned: RunningJob[]
  nextOrder: number
}

const rigOf = (world: World, slot: JobSlot, team: number) => {
  const rigs = world.rigs.filter((rig) => rig.site === slot.site)
  const rig = rigs[team % rigs.length]
  if (!rig) throw new Error(`no outfit at ${slot.site}`)
  return rig
}

function jobPlanOf(world: World, slot: JobSlot): JobPlan {
  const first = slot.days[0]?.day ?? localDay(siteOf(slot.site).zone, world.nowMs)
  const last = slot.isCurrent
    ? addDays(localDay(siteOf(slot.site).zone, world.nowMs), 3)
    : (slot.days.at(-1)?.day ?? first)
  return {
    site: slot.site,
    number: slot.number,
    title: slot.title,
    // A current job is bigger than what was done of it: the rest is today's and tomorrow's.
    days: slot.isCurrent ? slot.days.length + 4 : slot.days.length,
    rig: rigOf(world, slot, slot.days[0]?.team ?? 0),
    plannedStart: first,
    plannedEnd: last,
    chanceToRun: 1,
    createdMs: atLocal(siteOf(slot.site).zone, first, 0) - 34 * HOUR,
    state: 'planned',
  }
}

/** The job begins: written the day before, kept by its foreman, run from its first day. */
export function beginJob(world: World, slot: JobSlot): RunningJob {
  const plan = jobPlanOf(world, slot)
  const job = openJob(world, plan)
  const foreman = personId(world, TEAMS[slot.site].foreman)
  const doing = { atMs: plan.createdMs + HOUR, personId: foreman, role: 'foreman' } as const
  keepEstimate(world, job, doing, plan.rig, null)
  const startMs = atLocal(siteOf(slot.site).zone, plan.plannedStart, 5 * 60)
  writeChange(
    world.scribe,
    { ...doing, atMs: Math.min(startMs, world.nowMs - 9 * HOUR) },
    'job:write',
    { table: 'jobs', id: job.id, set: { state: 'running' } },
  )
  return job
}

function finishJob(world: World, job: RunningJob, day: string): void {
  const atMs = atLocal(siteOf(job.site).zone, day, 18 * 60 + 30)
  const doing = {
    atMs,
    personId: personId(world, TEAMS[job.site].foreman),
    role: 'foreman',
  } as const
  writeChange(world.scribe, doing, 'job:write', {
    table: 'jobs',
    id: job.id,
    set: { state: 'done', done_at: new Date(atMs) },
  })
}

function playSlotDay(world: World, state: HistoryState, slot: JobSlot, index: number): PermitRun {
  const { day, team } = slot.days[index] ?? { day: '', team: 0 }
  const job = state.jobs.get(slot.number) ?? beginJob(world, slot)
  state.jobs.set(slot.number, job)
  const people = TEAMS[slot.site]
  const { areas } = siteOf(slot.site)
  // Two teams on one day stand in two areas.
  const area = areas[(Number(slot.number) + team) % areas.length]
  const operator = people.operators[team % people.operators.length]
  const watch = people.watches[team % people.watches.length]
  if (!area || !operator || !watch) throw new Error(`nobody to work at ${slot.site}`)
  const isLastOfJob = index === slot.days.length - 1
  const unloggedSwapIn = state.faults.unloggedOn.get(`${slot.number}/${index}`)
  return playPermitDay(world, {
    job,
    rig: rigOf(world, slot, team),
    area,
    operator,
    watch,
    day,
    isFirstOfJob: index === 0 || (team === 1 && index === 1),
    isLastOfJob,
    daysLeft: slot.isCurrent ? slot.days.length - index + 4 : slot.days.length - index,
    isStopped: state.faults.stopsOn.has(`${slot.number}/${index}`),
    ...(unloggedSwapIn === undefined ? {} : { unloggedSwapIn }),
  })
}

function tendStock(world: World, state: HistoryState, day: string, offset: number): void {
  for (const { key } of SITES) {
    for (const order of state.orders.filter((open) => open.site === key && open.dueDay === day)) {
      receiveDelivery(world, order, deliveryMs(key, day), day)
      state.orders.splice(state.orders.indexOf(order), 1)
    }
    if (
      offset > lastOrdered(key) ||
      weekdayOf(day) > 5 ||
      state.orders.some((open) => open.site === key)
    )
      continue
    const atMs =
      atLocal(COMPANY_ZONE, day, 16 * 60 + 10) +
      SITES.findIndex((site) => site.key === key) * 60_000
    for (const [supplier, lines] of shortfall(world, key, false)) {
      state.orders.push(
        placeOrder(world, {
          site: key,
          supplier,
          lines,
          atMs,
          day,
          number: nextOrderNumber(state),
        }),
      )
    }
  }
}

export function nextOrderNumber(state: HistoryState): string {
  state.nextOrder += 1
  return `PO-${state.nextOrder}`
}

/** The first stock, brought before anybody works. */
function stockUp(world: World, state: HistoryState, day: string): void {
  for (const { key } of SITES) {
    for (const [supplier, lines] of shortfall(world, key, true)) {
      const atMs = world.startMs + HOUR
      const order = placeOrder(world, {
        site: key,
        supplier,
        lines,
        atMs,
        day,
        number: nextOrderNumber(state),
      })
      receiveDelivery(world, order, world.startMs + 26 * HOUR, addDays(day, 1))
    }
  }
}

function plantAndTend(world: World, state: HistoryState, day: string, offset: number): void {
  if (offset === -150) plantLeak(world, state.faults, day)
  if (offset >= -150) tendLeaks(world, state.faults, day, offset)
  if (offset === -96) plantMistypedReading(world, day)
}

/** Plays the year up to two days ago, day by day over all sites. */
export function playHistory(world: World, faults: Faults): HistoryState {
  const state: HistoryState = { orders: [], jobs: new Map(), faults, planned: [], nextOrder: 1000 }
  const today = localDay(COMPANY_ZONE, world.nowMs)
  const slots = planJobs(world.nowMs, world.chance.branch('jobs'))
  faults.choose(slots)
  stockUp(world, state, addDays(today, -HISTORY_DAYS))
  writeShopJob(world)
  for (let offset = -HISTORY_DAYS + 2; offset <= -2; offset += 1) {
    const day = addDays(today, offset)
    tendStock(world, state, day, offset)
    for (const slot of slots) {
      slot.days.forEach((planned, index) => {
        if (planned.day !== day) return
        const run = playSlotDay(world, state, slot, index)
        if (state.faults.outsideOn === `${slot.number}/${index}`) plantWorkOutside(run, day)
        if (index === slot.days.length - 1 && !slot.isCurrent) finishJob(world, run.job, day)
      })
    }
    plantAndTend(world, state, day, offset)
    tendYard(world, day, offset)
    if (weekdayOf(day) === 5) takeStock(world, day)
  }
  for (const { site, size, keep } of KEPT) sendBack(world, site, size, keep, addDays(today, -2))
  tendStock(world, state, addDays(today, -1), -1)
  for (const slot of slots.filter(
    (candidate) => candidate.isCurrent && candidate.days.length === 0,
  )) {
    state.jobs.set(slot.number, beginJob(world, slot))
  }
  return state
}

/** What is planned next, so that the forecast has something to go by. */
export function planAhead(world: World, state: HistoryState): void {
  PLANNED.forEach((planned, i) => {
    const today = localDay(siteOf(planned.site).zone, world.nowMs)
    const rig = world.rigs.find((candidate) => candidate.site === planned.site)
    if (!rig) throw new Error(`no outfit at ${planned.site}`)
    const plannedStart = addDays(today, planned.fromDay)
    const plan: JobPlan = {
      site: planned.site,
      number: planned.number,
      title: planned.title,
      days: planned.days,
      rig,
      plannedStart,
      plannedEnd: addDays(plannedStart, planned.days - 1),
      chanceToRun: planned.chance,
      createdMs: world.nowMs - (70 - i * 3) * HOUR,
      state: 'planned',
    }
    const job = openJob(world, plan)
    const foreman = personId(world, TEAMS[planned.site].foreman)
    keepEstimate(
      world,
      job,
      { atMs: plan.createdMs + HOUR, personId: foreman, role: 'foreman' },
      rig,
      null,
    )
    state.planned.push(job)
  })
}

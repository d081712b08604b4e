import 'server-only'
import { can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import {
  cellKey,
  cellTracks,
  cylindersOf,
  orderCost,
  otherStanding,
  storageEach,
} from '@/lib/calc/supply-plan-cost'
import {
  changedPlan,
  itemKey,
  type PlanItem,
  planItems,
  planWithout,
} from '@/lib/calc/supply-plan-edit'
import {
  chanceOutByDay,
  dayOfChance,
  leftByDay,
  outDayQuantiles,
} from '@/lib/calc/supply-plan-outlook'
import type { BrokenLimit, PlanCost, SupplyPlan } from '@/lib/calc/supply-plan-types'
import { AppError } from '@/lib/errors'
import type { PlanAsk } from '@/lib/schemas/plan'
import type { SolverProgress } from '@/lib/solver/run-milp'
import { dayAfter } from '../orders-supply'
import { type Commitment, mayEnd } from './commitments'
import { type OpenOrder, readOpenOrders } from './late-orders'
import { type PlanFacts, type PlanGas, readPlanFacts } from './problem'
import type { PlanSite } from './problem-rows'
import { betterPlan, judged, type KnownPlan, knownPlan } from './solved'

/** Sites that one plan looks at. */
const MOST_SITES = 30
/** The chance at which somebody should know. */
const TOLD_CHANCE = 0.1

export type PlanRowLine = Readonly<{
  sizeId: string
  sizeName: string
  gasId: string
  quantity: number
}>
export type PlanRow = Readonly<{
  key: string
  kind: PlanItem['kind']
  /** Day of the site, as "2026-04-13". */
  date: string
  siteId: string
  siteName: string
  /** Where a trip starts. */
  fromSiteId: string | null
  /** The same by name, or who delivers. */
  fromName: string | null
  supplierId: string | null
  lines: readonly PlanRowLine[]
  costMinor: number
  /** Of the gas that it helps most: the chance that it is out within the plan, with this line and without. */
  helps: Readonly<{ gasId: string; withLine: number; without: number }> | null
  /** Gross on the truck, and what it may carry as materials of trade. */
  truckKg: Readonly<{ load: number; most: number; papers: boolean }> | null
  mayConfirm: boolean
}>
export type PlanOut = Readonly<{
  siteId: string
  siteName: string
  gasId: string
  sizeId: string
  /** Told where the site uses more than one size of the gas. */
  sizeName: string | null
  /** Days from 0 on which it is out with one chance in ten; null past the plan. */
  dayNothing: number | null
  dayWith: number | null
  /** When it is out if nothing is done, in days from the start of today: 5, 27.5, 50, 72.5 and 95 %. */
  outNothing: readonly (number | null)[]
}>
export type PlanFan = Readonly<{
  site: PlanSite
  gas: PlanGas
  left: readonly (readonly number[])[]
  /** The middle of what is left if nothing is done. */
  leftNothing: readonly number[]
  /** Planned work that burns this gas, by days from today. */
  jobs: readonly Readonly<{ id: string; number: string; fromDay: number; toDay: number }>[]
  /** How many more of this size may stand here by the rulesets; null where they set no amount. */
  room: number | null
  chance: readonly number[]
  chanceNothing: readonly number[]
  comes: readonly Readonly<{ day: number; quantity: number; kind: 'order' | 'move' | 'fixed' }>[]
}>
export type PlanPage = Readonly<{
  now: Date
  currency: string
  sites: readonly PlanSite[]
  /** Own trucks on record. */
  trucks: number
  /** Moves and returns that were confirmed before. */
  commitments: readonly (Commitment & Readonly<{ mayEnd: boolean }>)[]
  /** Confirmed and not come. */
  orders: readonly (OpenOrder & Readonly<{ mayDelay: boolean }>)[]
  rows: readonly PlanRow[]
  outs: readonly PlanOut[]
  fan: PlanFan | null
  cost: PlanCost
  /** The same days if nothing is done, and as proposed where somebody changed it. */
  costNothing: PlanCost
  costProposed: PlanCost
  known: Pick<KnownPlan, 'isSolved' | 'gap'>
  /** What a changed plan breaks, or, where there is no plan, what has to give way. */
  broken: readonly BrokenLimit[]
  relax: readonly BrokenLimit[]
}>

const NOTHING: SupplyPlan = { orders: [], moves: [], returns: [] }

function sitesOf(viewer: Viewer): string[] {
  const siteIds = sitesWhere(viewer, 'order:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'order:read' })
  return siteIds.slice(0, MOST_SITES)
}

/** Refuses who may order nowhere, before anything is begun. */
export function assertMayPlan(viewer: Viewer): void {
  sitesOf(viewer)
}

/** What is at hand of each gas until each day under a plan, what hangs open counted. */
function availableUnder(facts: PlanFacts, plan: SupplyPlan) {
  const tracks = cellTracks(facts.problem, plan)
  return (gas: PlanGas): number[] => {
    const level = tracks.get(cellKey(gas.siteId, gas.sizeId))?.level ?? []
    return level.map((one) => one + gas.openCylinders)
  }
}

const lastOf = (chances: readonly number[]) => chances.at(-1) ?? 0

function rowOf(facts: PlanFacts, plan: SupplyPlan, item: PlanItem) {
  const key = itemKey(item)
  const route =
    item.kind === 'move'
      ? facts.problem.routes.find((one) => one.routeId === item.routeId)
      : undefined
  const siteId = item.kind === 'move' ? (route?.toSiteId ?? '') : item.siteId
  const site = facts.sites.find((one) => one.id === siteId)
  const gases = facts.gases.filter((gas) => gas.siteId === siteId)
  const supplier =
    item.kind === 'order' ? facts.suppliers.find((one) => one.id === item.supplierId) : undefined
  const lines = item.lines.map((line) => ({
    ...line,
    sizeName: gases.find((gas) => gas.sizeId === line.sizeId)?.sizeName ?? line.sizeId,
  }))
  return {
    key,
    kind: item.kind,
    date: dayAfter(site?.today ?? '1970-01-01', item.day),
    siteId,
    siteName: site?.shortName ?? '',
    fromSiteId: route?.fromSiteId ?? null,
    fromName:
      supplier?.name ?? facts.sites.find((one) => one.id === route?.fromSiteId)?.shortName ?? null,
    supplierId: supplier?.id ?? null,
    lines,
    costMinor: costOf(facts, item),
    helps: helpOf(facts, plan, { key, gases: gases.filter((gas) => usesLine(gas, item)) }),
    truckKg:
      item.kind === 'move'
        ? {
            load: item.lines.reduce(
              (sum, line) => sum + line.quantity * (facts.grossKg.get(line.sizeId) ?? 0),
              0,
            ),
            most: item.papers ? facts.problem.fleet.papersKg : facts.problem.fleet.tradeKg,
            papers: item.papers,
          }
        : null,
  }
}

const usesLine = (gas: PlanGas, item: PlanItem) =>
  item.kind !== 'return' && item.lines.some((line) => line.sizeId === gas.sizeId)

function costOf({ problem }: PlanFacts, item: PlanItem): number {
  if (item.kind === 'move')
    return problem.routes.find((route) => route.routeId === item.routeId)?.tripCost ?? 0
  if (item.kind === 'order') {
    const supplier = problem.suppliers.find(
      (one) => one.supplierId === item.supplierId && one.siteId === item.siteId,
    )
    return supplier ? supplier.fee + orderCost(supplier, item) : 0
  }
  const rentOf = (sizeId: string) =>
    problem.cells.find((cell) => cell.siteId === item.siteId && cell.sizeId === sizeId)
      ?.rentPerDay ?? 0
  return -item.lines.reduce(
    (sum, line) => sum + line.quantity * rentOf(line.sizeId) * (problem.days - item.day),
    0,
  )
}

function helpOf(
  facts: PlanFacts,
  plan: SupplyPlan,
  { key, gases }: { key: string; gases: readonly PlanGas[] },
): PlanRow['helps'] {
  if (gases.length === 0) return null
  const here = availableUnder(facts, plan)
  const without = availableUnder(facts, planWithout(plan, key))
  const helps = gases.map((gas) => ({
    gasId: gas.gasId,
    withLine: lastOf(chanceOutByDay(gas.demand, here(gas))),
    without: lastOf(chanceOutByDay(gas.demand, without(gas))),
  }))
  return helps.toSorted((a, b) => b.without - b.withLine - (a.without - a.withLine))[0] ?? null
}

function outsOf(facts: PlanFacts, plan: SupplyPlan): PlanOut[] {
  const here = availableUnder(facts, plan)
  const nothing = availableUnder(facts, NOTHING)
  // A size that nobody uses is moved and returned, and runs out of nothing.
  const used = facts.gases.filter(
    (gas) => gas.sizeId === gas.forecast.sizeId || (gas.demand.at(-1)?.mean ?? 0) > 0,
  )
  const outs = used.map((gas) => ({
    siteId: gas.siteId,
    siteName: facts.sites.find((site) => site.id === gas.siteId)?.shortName ?? '',
    gasId: gas.gasId,
    sizeId: gas.sizeId,
    sizeName: used.some(
      (one) => one !== gas && one.siteId === gas.siteId && one.gasId === gas.gasId,
    )
      ? gas.sizeName
      : null,
    dayNothing: dayOfChance(chanceOutByDay(gas.demand, nothing(gas)), TOLD_CHANCE),
    dayWith: dayOfChance(chanceOutByDay(gas.demand, here(gas)), TOLD_CHANCE),
    outNothing: outDayQuantiles(
      chanceOutByDay(gas.demand, nothing(gas)),
      facts.sites.find((site) => site.id === gas.siteId)?.dayGone,
    ),
  }))
  const late = (day: number | null) => day ?? facts.problem.days
  return outs.toSorted((a, b) => late(a.dayNothing) - late(b.dayNothing))
}

function fanOf(facts: PlanFacts, plan: SupplyPlan, chosen: PlanOut | undefined): PlanFan | null {
  const gas = facts.gases.find(
    (one) => one.siteId === chosen?.siteId && one.sizeId === chosen.sizeId,
  )
  const site = facts.sites.find((one) => one.id === chosen?.siteId)
  if (!gas || !site) return null
  const available = availableUnder(facts, plan)(gas)
  const planned = planItems(plan).flatMap((item) => {
    const to =
      item.kind === 'move'
        ? facts.problem.routes.find((route) => route.routeId === item.routeId)?.toSiteId
        : item.siteId
    const quantity = cylindersOf(item.lines.filter((line) => line.sizeId === gas.sizeId))
    return item.kind !== 'return' && to === gas.siteId && quantity > 0
      ? [{ day: item.day, quantity, kind: item.kind }]
      : []
  })
  const fixed = gas.ordered.flatMap((quantity, day) =>
    quantity > 0 ? [{ day, quantity, kind: 'fixed' as const }] : [],
  )
  const confirmed = facts.commitments
    .filter((one) => one.kind === 'move' && one.toSiteId === gas.siteId)
    .map((one) => ({
      day: one.inDays,
      quantity: cylindersOf(one.lines.filter((line) => line.sizeId === gas.sizeId)),
      kind: 'move' as const,
    }))
    .filter((one) => one.quantity > 0 && one.day < facts.problem.days)
  return {
    site,
    gas,
    left: leftByDay(gas.demand, available),
    leftNothing: leftByDay(gas.demand, availableUnder(facts, NOTHING)(gas)).map(
      (day) => day[2] ?? 0,
    ),
    jobs: facts.jobs
      .filter((job) => job.siteId === gas.siteId)
      .filter((job) => gas.gasId === 'oxygen' || job.fuel === gas.gasId),
    room: roomFor(facts.problem, gas),
    chance: chanceOutByDay(gas.demand, available),
    chanceNothing: chanceOutByDay(gas.demand, availableUnder(facts, NOTHING)(gas)),
    comes: [...planned, ...fixed, ...confirmed].toSorted((a, b) => a.day - b.day),
  }
}

/** What a site's storage limit leaves of one size today, all that stands there counted. */
function roomFor({ storage, cells }: PlanFacts['problem'], gas: PlanGas): number | null {
  const limits = storage.filter(
    (limit) => limit.siteId === gas.siteId && limit.gasIds.includes(gas.gasId),
  )
  const rooms = limits.map((limit) => {
    const here = cells.filter(
      (cell) => cell.siteId === gas.siteId && limit.gasIds.includes(cell.gasId),
    )
    const there = here.reduce(
      (sum, cell) => sum + (cell.full + otherStanding(cell, 0)) * storageEach(limit, cell.sizeId),
      0,
    )
    return Math.floor((limit.most - there) / Math.max(1e-9, storageEach(limit, gas.sizeId)))
  })
  return rooms.length === 0 ? null : Math.max(0, Math.min(...rooms))
}

/** The plan of all the viewer's sites as far as it is known by now; it never waits for the solver. */
export async function getPlan(viewer: Viewer, ask: PlanAsk): Promise<PlanPage> {
  const siteIds = sitesOf(viewer)
  const [facts, orders] = await Promise.all([readPlanFacts(siteIds, ask), readOpenOrders(siteIds)])
  const known = knownPlan(facts.problem)
  const plan = changedPlan(known.plan, ask.changes)
  const { cost, broken } = judged(facts.problem, plan)
  const outs = outsOf(facts, plan)
  const asked = outs.filter((out) => out.siteId === ask.site && out.gasId === ask.gas)
  const chosen = asked.find((out) => out.sizeId === ask.size) ?? asked[0] ?? outs[0]
  return {
    now: facts.now,
    currency: facts.suppliers.flatMap((supplier) => supplier.prices)[0]?.currency ?? 'USD',
    sites: facts.sites,
    trucks: facts.trucks,
    rows: planItems(plan)
      .map((item) => rowOf(facts, plan, item))
      .map((row) => ({
        ...row,
        mayConfirm: [row.siteId, row.fromSiteId ?? row.siteId].every((siteId) =>
          can(viewer, 'order:confirm', siteId),
        ),
      })),
    commitments: facts.commitments.map((one) => ({ ...one, mayEnd: mayEnd(viewer, one) })),
    orders: orders.map((one) => ({ ...one, mayDelay: can(viewer, 'order:confirm', one.siteId) })),
    outs,
    fan: fanOf(facts, plan, chosen),
    cost,
    costNothing: judged(facts.problem, NOTHING).cost,
    costProposed: judged(facts.problem, known.plan).cost,
    known: { isSolved: known.isSolved, gap: known.gap },
    broken,
    relax: known.outcome && !known.outcome.ok ? known.outcome.relax : [],
  }
}

/** Asks the solver for a better plan; `onProgress` hears how far it is. */
export async function solveSupply(
  viewer: Viewer,
  ask: PlanAsk,
  onProgress: (progress: SolverProgress) => void,
): Promise<{ isFound: boolean; gap: number | null }> {
  const facts = await readPlanFacts(sitesOf(viewer), ask)
  const outcome = await betterPlan(facts.problem, onProgress)
  return { isFound: outcome.ok, gap: outcome.ok ? outcome.gap : null }
}

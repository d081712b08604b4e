import { estimateCutList } from '@/lib/calc/estimate'
import type { CutInput, EstimateInput, EstimateResult } from '@/lib/calc/estimate-types'
import type { FuelCode } from '@/lib/calc/gas-data'
import { shapeCode } from '@/lib/schemas/cut-dims'
import type { Row } from '../facts'
import { type Doing, writeRow } from '../records/scribe'
import { sizeOf } from '../reference'
import { CREWS, TEAMS } from './people'
import { calcSize } from './readings'
import { fillMinorOf } from './suppliers'
import { type CutPlan, MORE_CUTS, WORK, type WorkingSite } from './work'
import { personId, type Rig, type World } from './world'

/** One cut of a running job with what one piece truly takes, before the crew's factor. */
export type RunningCut = {
  readonly id: string
  readonly plan: CutPlan
  readonly count: number
  readonly each: Readonly<{ oxygenKg: number; fuelKg: number; torchS: number }>
  done: number
}

export type RunningJob = {
  readonly id: string
  readonly number: string
  readonly title: string
  readonly site: WorkingSite
  readonly cutListId: string
  readonly fuel: FuelCode
  readonly cuts: RunningCut[]
  /** Hidden: the crew's factor times how this job went. */
  readonly useFactor: number
}

/** Torch time that a crew gets through in a permit's day. */
export const TORCH_S_PER_DAY = 8400

function toCutInput(
  cut: Readonly<{ id: string; plan: CutPlan; count: number; done: number }>,
): CutInput {
  return {
    id: cut.id,
    material: cut.plan.material,
    ...cut.plan.dims,
    count: cut.count,
    doneCount: cut.done,
    position: cut.plan.position,
    process: 'hand',
  }
}

function estimateOf(input: EstimateInput): EstimateResult {
  const estimate = estimateCutList(input)
  if (!estimate.ok) throw new Error(`estimate refused: ${JSON.stringify(estimate.refusals)}`)
  return estimate
}

function takenByOne(plan: CutPlan, fuel: FuelCode): RunningCut['each'] {
  const ten = estimateOf({ fuel, cuts: [toCutInput({ id: 'one', plan, count: 10, done: 0 })] })
  return {
    oxygenKg: ten.oxygen.mean / 10,
    fuelKg: ten.fuelGas.mean / 10,
    torchS: ten.time.torchS / 10,
  }
}

export type JobPlan = Readonly<{
  site: WorkingSite
  number: string
  title: string
  days: number
  rig: Rig
  plannedStart: string
  plannedEnd: string
  chanceToRun: number
  createdMs: number
  state: 'planned' | 'running'
}>

function chooseCuts(world: World, plan: JobPlan, fuel: FuelCode): RunningCut[] {
  const choices = WORK[plan.site].cuts
  const first = world.chance.whole(0, choices.length - 1)
  const howMany = Math.min(choices.length, world.chance.whole(2, 4))
  const torchEach = (plan.days * TORCH_S_PER_DAY) / howMany
  return Array.from({ length: howMany }, (_unused, i): RunningCut => {
    const cut = choices[(first + i) % choices.length]
    if (!cut) throw new Error(`no cuts for ${plan.site}`)
    const each = takenByOne(cut, fuel)
    return {
      id: world.scribe.newId(plan.createdMs),
      plan: cut,
      count: Math.max(2, Math.round(torchEach / each.torchS)),
      each,
      done: 0,
    }
  })
}

const isFuelCode = (gas: string): gas is FuelCode => gas === 'acetylene' || gas === 'propane'

/** A job with its cut list, as the foreman writes them. */
export function openJob(
  world: World,
  plan: JobPlan,
  cuts?: readonly Readonly<{ cut: CutPlan; count: number }>[],
): RunningJob {
  const fuel = plan.rig.fuel
  if (!isFuelCode(fuel)) throw new Error(`outfit ${plan.rig.number} burns no fuel of the demo`)
  const id = world.scribe.newId(plan.createdMs)
  const cutListId = world.scribe.newId(plan.createdMs)
  const team = TEAMS[plan.site]
  const asGiven = ({ cut, count }: Readonly<{ cut: CutPlan; count: number }>): RunningCut => ({
    id: world.scribe.newId(plan.createdMs),
    plan: cut,
    count,
    each: takenByOne(cut, fuel),
    done: 0,
  })
  const running = [
    ...(cuts ? cuts.map(asGiven) : chooseCuts(world, plan, fuel)),
    ...(MORE_CUTS[plan.number] ?? []).map(asGiven),
  ]
  const job: RunningJob = {
    id,
    number: plan.number,
    title: plan.title,
    site: plan.site,
    cutListId,
    fuel,
    cuts: running,
    useFactor: CREWS[team.crew].hiddenFactor * world.chance.factor(0.07),
  }
  writeJob(world, plan, job)
  return job
}

function writeJob(world: World, plan: JobPlan, job: RunningJob): void {
  const team = TEAMS[plan.site]
  const siteId = world.siteIds[plan.site]
  const doing: Doing = {
    atMs: plan.createdMs,
    personId: personId(world, team.foreman),
    role: 'foreman',
  }
  writeRow(world.scribe, doing, 'job:write', 'jobs', {
    id: job.id,
    site_id: siteId,
    crew_id: world.crewIds[team.crew],
    number: job.number,
    title: job.title,
    planned_start: plan.plannedStart,
    planned_end: plan.plannedEnd,
    chance_to_run: plan.chanceToRun,
    state: plan.state,
    created_by: doing.personId,
  })
  const list = {
    id: job.cutListId,
    site_id: siteId,
    job_id: job.id,
    title: 'Cuts',
    fuel: job.fuel,
    process: 'hand',
  }
  writeRow(world.scribe, doing, 'job:write', 'cut_lists', list)
  const rows = job.cuts.map(
    (cut, i): Row => ({
      id: cut.id,
      site_id: siteId,
      cut_list_id: job.cutListId,
      ordinal: i + 1,
      title: cut.plan.title,
      material: cut.plan.material,
      coating: cut.plan.coating,
      shape: shapeCode(cut.plan.dims),
      dims: { json: cut.plan.dims },
      position: cut.plan.position,
      count: cut.count,
    }),
  )
  writeRow(world.scribe, doing, 'job:write', 'cuts', ...rows)
}

/** Everything in a result that says where a number came from, once each. */
function sourcesIn(value: unknown, found = new Map<string, unknown>()): unknown[] {
  if (typeof value !== 'object' || value === null) return [...found.values()]
  if ('formulaCode' in value && 'provenance' in value) {
    const { formulaCode, provenance } = value
    const tableId = 'tableId' in value ? value.tableId : null
    found.set(`${formulaCode} ${tableId} ${provenance}`, { formulaCode, tableId, provenance })
  }
  for (const inner of Object.values(value)) sourcesIn(inner, found)
  return [...found.values()]
}

/** Keeps the estimate of what is left, by hand or with a permit that is issued. */
export function keepEstimate(
  world: World,
  job: RunningJob,
  doing: Doing,
  rig: Rig,
  permitId: string | null,
): void {
  const left = job.cuts.filter((cut) => cut.done < cut.count)
  if (left.length === 0) return
  const inputs: EstimateInput = {
    fuel: job.fuel,
    cuts: left.map(toCutInput),
    oxygenSize: { ...calcSize(rig.sizes.oxygen), sizeCode: rig.sizes.oxygen },
    fuelSize: {
      ...calcSize(rig.sizes.fuel),
      sizeCode: rig.sizes.fuel,
      heelKg: sizeOf(rig.sizes.fuel).heelKg,
    },
    prices: {
      currency: 'USD',
      oxygenCylinderMinor: fillMinorOf(rig.sizes.oxygen),
      fuelCylinderMinor: fillMinorOf(rig.sizes.fuel),
    },
  }
  const result = estimateOf(inputs)
  writeRow(world.scribe, doing, 'estimate:keep', 'estimates', {
    id: world.scribe.newId(doing.atMs),
    site_id: world.siteIds[job.site],
    job_id: job.id,
    cut_list_id: job.cutListId,
    permit_id: permitId,
    reason: permitId ? 'issued' : 'kept',
    calc_version: result.calcVersion,
    inputs: { json: inputs },
    result: { json: { ...result, refusedCuts: {} } },
    sources: { json: sourcesIn(result) },
    oxygen_kg: result.oxygen.mean,
    oxygen_u_kg: result.oxygen.standardUncertainty,
    fuel: result.fuel,
    fuel_kg: result.fuelGas.mean,
    fuel_u_kg: result.fuelGas.standardUncertainty,
    kept_by: doing.personId,
  })
}

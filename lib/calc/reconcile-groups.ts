import { CalcError, requireNumber } from './errors'
import type { GasReading, GasRecord } from './reconcile-types'

/** Places in the record of what belongs to one component, lowest first. */
export type Members = { readings: Int32Array; jobs: Int32Array; gauges: Int32Array }

export type LedgerState = {
  fillings: number[]
  jobs: number[]
  contentsKg: number[]
  variances: number[]
  gauges: number[]
  gains: number[]
  totalsKg: number[]
  totalVariances: number[]
  gaugeVariances: number[]
  /** The readings before and after in the same filling, −1 at its ends. */
  before: number[]
  after: number[]
  readingsOfJob: number[][]
  /** Places within the component that was laid out last: room to work, not a result. */
  localReading: number[]
  localJob: number[]
  localGauge: number[]
  hasTotal: (job: number) => boolean
  append: (reading: GasReading) => number
  appendJob: (totalKg: number, variance: number) => number
}

/** Takes a record over, reading by reading, and checks each. */
export function openState(record: GasRecord): LedgerState {
  const totalsKg: number[] = []
  const state: LedgerState = {
    fillings: [],
    jobs: [],
    contentsKg: [],
    variances: [],
    gauges: [],
    gains: [],
    totalsKg,
    totalVariances: [],
    gaugeVariances: Array.from(record.gaugeVariances ?? []),
    before: [],
    after: [],
    readingsOfJob: [],
    localReading: [],
    localJob: [],
    localGauge: [],
    hasTotal: (job) => job >= 0 && !Number.isNaN(totalsKg[job] as number),
    append: (reading) => appendReading(state, lastOf, reading),
    appendJob: (totalKg, variance) => appendJob(state, totalKg, variance),
  }
  const lastOf: number[] = []
  for (const [g, variance] of state.gaugeVariances.entries())
    requireNumber(`gaugeVariances.${g}`, variance, { above: 0 })
  for (let j = 0; j < record.totalsKg.length; j += 1)
    appendJob(state, record.totalsKg[j] as number, record.totalVariances[j] as number)
  takeReadings(state, lastOf, record)
  return state
}

function appendJob(state: LedgerState, totalKg: number, variance: number): number {
  const place = state.totalsKg.length
  if (!Number.isNaN(totalKg)) {
    requireNumber(`totalsKg.${place}`, totalKg)
    requireNumber(`totalVariances.${place}`, variance, { above: 0 })
  }
  state.totalsKg.push(totalKg)
  state.totalVariances.push(variance)
  state.readingsOfJob.push([])
  state.localJob.push(-1)
  return place
}

function requirePlace(field: string, place: number, max: number): void {
  if (!(Number.isInteger(place) && place >= -1 && place <= max))
    throw new CalcError('OUT_OF_RANGE', field, place, { min: -1, max })
}

/** A record's readings all at once: the same as one by one, in columns as long as they will be. */
function takeReadings(state: LedgerState, lastOf: number[], record: GasRecord): void {
  const count = record.contentsKg.length
  const gaugeOf = record.gauges
  const gainOf = record.gains
  const before = new Int32Array(count).fill(-1)
  const after = new Int32Array(count).fill(-1)
  for (let i = 0; i < count; i += 1) {
    const filling = record.fillings[i] as number
    const earlier = lastOf[filling] ?? -1
    checkReading(state, earlier, {
      filling,
      job: record.jobs[i] as number,
      contentsKg: record.contentsKg[i] as number,
      variance: record.variances[i] as number,
      gauge: gaugeOf ? (gaugeOf[i] as number) : -1,
      gain: gainOf ? (gainOf[i] as number) : 1,
    })
    before[i] = earlier
    if (earlier >= 0) after[earlier] = i
    lastOf[filling] = i
    const job = record.jobs[i] as number
    if (job >= 0) state.readingsOfJob[job]?.push(i)
  }
  state.fillings = Array.from(record.fillings)
  state.jobs = Array.from(record.jobs)
  state.contentsKg = Array.from(record.contentsKg)
  state.variances = Array.from(record.variances)
  state.gauges = gaugeOf ? Array.from(gaugeOf) : new Array<number>(count).fill(-1)
  state.gains = gainOf ? Array.from(gainOf) : new Array<number>(count).fill(1)
  state.before = Array.from(before)
  state.after = Array.from(after)
  state.localReading = new Array<number>(count).fill(-1)
}

function checkReading(state: LedgerState, earlier: number, reading: Required<GasReading>): void {
  const { filling, job, contentsKg, variance, gauge, gain } = reading
  requirePlace('filling', filling, 2 ** 31 - 2)
  if (filling < 0) throw new CalcError('OUT_OF_RANGE', 'filling', filling, { min: 0 })
  requirePlace('job', job, state.totalsKg.length - 1)
  requirePlace('gauge', gauge, state.gaugeVariances.length - 1)
  requireNumber('contentsKg', contentsKg)
  requireNumber('gain', gain)
  if (!(variance > 0 && variance < Infinity))
    throw new CalcError('OUT_OF_RANGE', 'variance', variance, { above: 0 })
  if (earlier < 0 && job >= 0)
    throw new CalcError('WRONG_ORDER', 'job', job, 'first of its filling')
}

function appendReading(state: LedgerState, lastOf: number[], reading: GasReading): number {
  const { filling, job, contentsKg, variance, gauge = -1, gain = 1 } = reading
  const place = state.contentsKg.length
  const earlier = lastOf[filling] ?? -1
  checkReading(state, earlier, { filling, job, contentsKg, variance, gauge, gain })
  state.fillings.push(filling)
  state.jobs.push(job)
  state.contentsKg.push(contentsKg)
  state.variances.push(variance)
  state.gauges.push(gauge)
  state.gains.push(gain)
  state.before.push(earlier)
  state.after.push(-1)
  state.localReading.push(-1)
  if (earlier >= 0) state.after[earlier] = place
  lastOf[filling] = place
  if (job >= 0) state.readingsOfJob[job]?.push(place)
  return place
}

/**
 * Parts a record into components: what shares a filling, a job with a total or a gauge belongs together.
 *
 * @returns members of each, in the order of their first readings
 */
export function groupRecord(state: LedgerState): Members[] {
  const { fillings, jobs, gauges } = state
  const [jobCount, gaugeCount] = [state.totalsKg.length, state.gaugeVariances.length]
  const fillingCount = fillings.reduce((most, filling) => Math.max(most, filling + 1), 0)
  const parents = Int32Array.from({ length: jobCount + gaugeCount + fillingCount }, (_, i) => i)
  const find = (node: number): number => {
    let root = node
    while ((parents[root] as number) !== root) {
      parents[root] = parents[parents[root] as number] as number
      root = parents[root] as number
    }
    return root
  }
  const nodeOf = (reading: number) => jobCount + gaugeCount + (fillings[reading] as number)
  for (let i = 0; i < fillings.length; i += 1) {
    if (state.hasTotal(jobs[i] as number)) parents[find(jobs[i] as number)] = find(nodeOf(i))
    if ((gauges[i] as number) >= 0)
      parents[find(jobCount + (gauges[i] as number))] = find(nodeOf(i))
  }
  const groupOf = new Int32Array(parents.length).fill(-1)
  const groups: { readings: number[]; jobs: number[]; gauges: number[] }[] = []
  for (let i = 0; i < fillings.length; i += 1) {
    const root = find(nodeOf(i))
    if ((groupOf[root] as number) < 0) {
      groupOf[root] = groups.length
      groups.push({ readings: [], jobs: [], gauges: [] })
    }
    groups[groupOf[root] as number]?.readings.push(i)
  }
  for (let j = 0; j < jobCount; j += 1)
    if (state.hasTotal(j)) groups[groupOf[find(j)] as number]?.jobs.push(j)
  for (let g = 0; g < gaugeCount; g += 1)
    groups[groupOf[find(jobCount + g)] as number]?.gauges.push(g)
  return groups.map((group) => ({
    readings: Int32Array.from(group.readings),
    jobs: Int32Array.from(group.jobs),
    gauges: Int32Array.from(group.gauges),
  }))
}

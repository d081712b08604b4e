import { floats, integers } from './reconcile-arrays'
import { type ComponentSolution, solveComponent } from './reconcile-component'
import { groupRecord, type LedgerState, type Members, openState } from './reconcile-groups'
import type { ComponentProblem, GasReading, GasRecord } from './reconcile-types'

/** Readings and jobs that touch each other, by their places in the record, with what came out. */
export type Component = Members & { problem: ComponentProblem; solution: ComponentSolution }

export type Ledger = {
  components: () => readonly Component[]
  componentOfReading: (reading: number) => Component | null
  componentOfJob: (job: number) => Component | null
  /** Adds one reading and solves again the one component that it touches; returns its place. */
  add: (reading: GasReading) => number
  /** Adds one job with its total, or NaN and NaN for none; returns its place. */
  addJob: (totalKg: number, variance: number) => number
  /** Readings that end an interval served to a job, with the reading that each began at. */
  intervalsOf: (job: number) => { from: number; to: number }[]
  /** The reading as it came, kg. */
  contentsOf: (reading: number) => number
}

/**
 * Opens a record: parts it into components and solves each.
 *
 * @param record readings oldest first within each filling; places are counted from nought
 * @returns the ledger; the same record gives the same bits, whether opened whole or added reading by reading
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE for a number or a place; WRONG_ORDER where a filling's first
 *   reading names a job that came before it
 * @source `solveComponent`; components are independent of each other
 */
export function openLedger(record: GasRecord): Ledger {
  const state = openState(record)
  const found = new Set<Component>()
  // A filling lies in one component, so a reading is found by its filling.
  const places: { [kind in 'fillings' | 'jobs' | 'gauges']: Component[] } = {
    fillings: [],
    jobs: [],
    gauges: [],
  }
  const keep = (members: Members) => {
    const component = solved(state, members)
    found.add(component)
    for (const job of members.jobs) places.jobs[job] = component
    for (const gauge of members.gauges) places.gauges[gauge] = component
    for (const reading of members.readings)
      places.fillings[state.fillings[reading] as number] = component
  }
  for (const members of groupRecord(state)) keep(members)
  const add = (reading: GasReading): number => {
    const place = state.append(reading)
    const job = state.hasTotal(reading.job) ? reading.job : -1
    const gauge = reading.gauge ?? -1
    const touched = new Set(
      [places.fillings[reading.filling], places.jobs[job], places.gauges[gauge]].filter(
        (one) => one !== undefined,
      ),
    )
    for (const component of touched) found.delete(component)
    keep(
      joined([...touched], {
        readings: [place],
        jobs: job < 0 ? [] : [job],
        gauges: gauge < 0 ? [] : [gauge],
      }),
    )
    return place
  }
  return {
    components: () =>
      [...found].sort((a, b) => (a.readings[0] as number) - (b.readings[0] as number)),
    componentOfReading: (reading) => places.fillings[state.fillings[reading] as number] ?? null,
    componentOfJob: (job) => places.jobs[job] ?? null,
    add,
    addJob: state.appendJob,
    intervalsOf: (job) =>
      (state.readingsOfJob[job] ?? []).map((to) => ({ from: state.before[to] as number, to })),
    contentsOf: (reading) => state.contentsKg[reading] as number,
  }
}

function joined(
  components: readonly Members[],
  added: { readings: number[]; jobs: number[]; gauges: number[] },
): Members {
  const together = (pick: (one: Members) => Int32Array, more: number[]) =>
    Int32Array.from(new Set([...components.flatMap((one) => [...pick(one)]), ...more])).sort()
  return {
    readings: together((one) => one.readings, added.readings),
    jobs: together((one) => one.jobs, added.jobs),
    gauges: together((one) => one.gauges, added.gauges),
  }
}

function solved(state: LedgerState, members: Members): Component {
  const problem = problemOf(state, members)
  return { ...members, problem, solution: solveComponent(problem) }
}

/** The component's own copy of its part of the record, places counted within itself. */
function problemOf(state: LedgerState, { readings, jobs, gauges }: Members): ComponentProblem {
  const { localReading, localJob, localGauge } = state
  readings.forEach((reading, i) => {
    localReading[reading] = i
  })
  jobs.forEach((job, j) => {
    localJob[job] = j
  })
  gauges.forEach((gauge, g) => {
    localGauge[gauge] = g
  })
  const local = (job: number) => (state.hasTotal(job) ? (localJob[job] as number) : -1)
  const pick = (column: ArrayLike<number>) =>
    floats(readings.length, (i) => column[readings[i] as number] as number)
  const place = (of: (reading: number) => number) =>
    integers(readings.length, (i) => of(readings[i] as number))
  return {
    totals: floats(jobs.length, (j) => state.totalsKg[jobs[j] as number] as number),
    totalVariances: floats(jobs.length, (j) => state.totalVariances[jobs[j] as number] as number),
    values: pick(state.contentsKg),
    variances: pick(state.variances),
    opens: place((reading) => {
      const next = state.after[reading] as number
      return next < 0 ? -1 : local(state.jobs[next] as number)
    }),
    closes: place((reading) => local(state.jobs[reading] as number)),
    before: place((reading) => {
      const earlier = state.before[reading] as number
      return earlier < 0 ? -1 : (localReading[earlier] as number)
    }),
    gauges: place((reading) => {
      const gauge = state.gauges[reading] as number
      return gauge < 0 ? -1 : (localGauge[gauge] as number)
    }),
    gains: pick(state.gains),
    gaugeVariances: floats(
      gauges.length,
      (g) => state.gaugeVariances[gauges[g] as number] as number,
    ),
  }
}

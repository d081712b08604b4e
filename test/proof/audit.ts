import { crewFactors, type FactorObservation } from '@/lib/calc/crew-factor'
import { explainTrail } from '@/lib/calc/hypotheses'
import { openLedger } from '@/lib/calc/reconcile-ledger'
import { jobUsage } from '@/lib/calc/reconcile-usage'
import { openChance } from '@/seed/random'
import { randomRecord } from '../unit/calc/gas-record'
import { type FaultKind, isNamed, simulateCompany } from '../unit/calc/trail-company'

export const name =
  'The gas audit covers the truth nine times in ten, finds what was hidden and accuses nobody else'

const COMPANIES = 200
const FAULTS: readonly FaultKind[] = ['leak_idle', 'swap_not_logged', 'reading_mistyped']
const LEAST_FOUND = 0.95
const FALSE_ALARM = 0.05

type Proved = { cases: number; failures: string[] }

/** Intervals of jobs' use over made-up companies: nine in ten hold what was really used. */
function coverage(): Proved {
  const seen = { cases: 0, held: 0 }
  for (let i = 0; i < COMPANIES; i += 1) {
    const { record, usedKg } = randomRecord({
      seed: `coverage ${i}`,
      jobs: 30,
      cylinders: 70,
      move: i % 2 === 0 ? 'path' : 'near',
      gauges: i % 3,
    })
    const ledger = openLedger(record)
    for (const [job, used] of usedKg.entries()) {
      if (used === 0) continue
      const { low90, high90 } = jobUsage(ledger, job).reconciled
      seen.cases += 1
      if (low90 <= used && used <= high90) seen.held += 1
    }
  }
  const share = seen.held / seen.cases
  console.log(`    90 % intervals of use hold ${(share * 100).toFixed(2)} % of ${seen.cases}`)
  const failures = share >= 0.87 && share <= 0.93 ? [] : [`intervals hold ${share}`]
  return { cases: seen.cases, failures }
}

/** Faults of at least six of their deviations, three at once in each company. */
function hidden(): Proved {
  const found = new Map(FAULTS.map((kind) => [kind, { planted: 0, named: 0 }]))
  for (let i = 0; i < COMPANIES; i += 1) {
    const { trail, planted } = simulateCompany(`hidden ${i}`, FAULTS)
    const { findings } = explainTrail(trail)
    for (const fault of planted) {
      const count = found.get(fault.kind)
      if (!count) continue
      count.planted += 1
      if (isNamed(fault, findings)) count.named += 1
    }
  }
  const failures: string[] = []
  for (const [kind, { planted, named }] of found) {
    console.log(`    ${kind}: in the best set in ${named} of ${planted}`)
    if (planted === 0 || named < LEAST_FOUND * planted)
      failures.push(`${kind}: ${named} of ${planted}`)
  }
  return { cases: COMPANIES * FAULTS.length, failures }
}

function calm(): Proved {
  let accused = 0
  for (let i = 0; i < COMPANIES; i += 1)
    if (explainTrail(simulateCompany(`calm ${i}`, []).trail).findings.length > 0) accused += 1
  console.log(`    of ${COMPANIES} with nothing wrong ${accused} have a finding`)
  const failures =
    accused <= FALSE_ALARM * COMPANIES ? [] : [`${accused} of ${COMPANIES} falsely accused`]
  return { cases: COMPANIES, failures }
}

/** Each job's ratio foretold from all others: by the crew's factor, its raw mean, and the company's mean. */
function leaveOneOut(): Proved {
  const errors = { factor: 0, raw: 0, mean: 0 }
  let cases = 0
  for (let company = 0; company < 40; company += 1) {
    const jobs = simulateJobs(`factors ${company}`)
    for (const [left, job] of jobs.entries()) {
      const others = jobs.filter((_, i) => i !== left)
      const found = crewFactors(others)
      if (!found.isLearned) continue
      const own = others.filter((one) => one.crewId === job.crewId && one.siteId === job.siteId)
      const crew = found.crews.find((one) => one.crewId === job.crewId && one.siteId === job.siteId)
      if (own.length === 0 || !crew) continue
      cases += 1
      const off = (foretold: number) => job.weight * (job.ratio - foretold) ** 2
      errors.factor += off(crew.factor)
      errors.raw += off(meanOf(own))
      errors.mean += off(meanOf(others))
    }
  }
  const times = (other: number) => (errors.factor / other).toFixed(3)
  console.log(
    `    squared error left out: ${times(errors.raw)} of raw ratios', ${times(errors.mean)} of the company mean's`,
  )
  const holds = errors.factor < errors.raw && errors.factor < errors.mean
  return { cases, failures: holds ? [] : ['factors foretell no better'] }
}

const meanOf = (jobs: readonly FactorObservation[]) =>
  jobs.reduce((sum, one) => sum + one.weight * one.ratio, 0) /
  jobs.reduce((sum, one) => sum + one.weight, 0)

/** Crews of three sites, some with two jobs and some with nine; jobs scatter more than crews differ. */
function simulateJobs(seed: string): FactorObservation[] {
  const chance = openChance(seed)
  return ['north', 'south', 'west'].flatMap((siteId) => {
    const site = chance.normal(1.1, 0.08)
    return ['A', 'B', 'C', 'D'].flatMap((crewId) => {
      const crew = chance.normal(site, 0.08)
      return Array.from({ length: chance.whole(2, 9) }, () => {
        const weight = chance.between(10, 80)
        return { siteId, crewId, weight, ratio: chance.normal(crew, 0.9 / Math.sqrt(weight)) }
      })
    })
  })
}

export async function run(): Promise<Proved> {
  const parts = [coverage(), hidden(), calm(), leaveOneOut()]
  return {
    cases: parts.reduce((sum, part) => sum + part.cases, 0),
    failures: parts.flatMap((part) => part.failures),
  }
}

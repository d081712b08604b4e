import { addTimes } from './cut-times'
import { estimateRefusals, PURITY_PCT } from './estimate-check'
import { jobCost } from './estimate-cost'
import { type CutWork, cutWork, type GasWork, totalOf } from './estimate-cut'
import { type Job, jobSupply, jobWithdrawal } from './estimate-job-supply'
import { preheatRatio } from './estimate-segment'
import type { EstimateInput, EstimateOutcome, EstimateResult, GasAmount } from './estimate-types'
import { type GasCode, isFuelCode } from './gas-data'
import {
  IDLE_FLAME_FRACTION,
  LIGHT_UP_SECONDS,
  LIT_SECONDS_PER_LIGHT_UP,
  OPERATING_FACTOR,
} from './judgements'
import { refuse } from './refusal'
import { lognormalInterval, quadrature } from './stats'
import { OFC_CARBON_STEEL } from './tables/ofc-carbon-steel'
import { source } from './trace'
import { gasKgFromM3 } from './units'
import { CALC_VERSION } from './version'

/**
 * What a cut list takes: settings, time, oxygen and fuel with their uncertainty, weight of the pieces,
 * cylinders, manifold and cost.
 *
 * The table's ranges and the crew's factor are common to the whole job, so their part of the uncertainty
 * adds straight over the cuts; the scatter of single cuts adds in quadrature. The 90 % interval is
 * lognormal: it holds the mean and never reaches nothing. Oxygen is never below what burning the kerf takes.
 *
 * @param input fuel, cuts and what is known of the job; all in SI
 * @returns the estimate with the source of every number, or every refusal at once
 * @source `OFC_CARBON_STEEL` (from memory) or the shop's own chart; `lib/calc/judgements`
 */
export function estimateCutList(input: EstimateInput): EstimateOutcome {
  const chart = input.tipChart ?? OFC_CARBON_STEEL
  const refusals = estimateRefusals(input, chart)
  const fuel = input.fuel
  if (refusals.length > 0 || !isFuelCode(fuel)) return refuse(refusals)
  const factor = input.crewFactor?.mean ?? 1
  const purityPct = input.oxygenPurityPct ?? PURITY_PCT.normal
  const idleFraction = input.idleFlameFraction ?? IDLE_FLAME_FRACTION
  const works = input.cuts.map((cut) =>
    cutWork(cut, { chart, fuel, purityPct, idleFraction, factor }),
  )
  return assemble({ input, chart, fuel, works, factor })
}

function assemble(job: Job): EstimateOutcome {
  const { input, chart, fuel, works } = job
  const time = jobTime(job)
  const floorKg = works.reduce((sum, work) => sum + work.estimate.oxygenFloorKg.value, 0)
  const lightUp = lightUpKg(job, time.lightUpS)
  const oxygen = gasAmount({
    job,
    gas: 'oxygen',
    pick: (work) => work.oxygen,
    lightUpKg: lightUp.oxygen,
    floorKg,
  })
  const fuelGas = gasAmount({
    job,
    gas: fuel,
    pick: (work) => work.fuel,
    lightUpKg: lightUp.fuel,
    floorKg: 0,
  })
  const supply = jobSupply(job, { oxygen, fuelGas, torchS: time.torchS })
  if (supply.refusals.length > 0) return refuse(supply.refusals)
  return {
    ok: true,
    calcVersion: CALC_VERSION,
    fuel,
    tableId: chart.id,
    cuts: works.map((work) => work.estimate),
    oxygen,
    fuelGas,
    oxygenFloorKg: floorKg,
    time,
    supply: { oxygen: supply.oxygen, fuel: supply.fuel },
    withdrawal: jobWithdrawal(job),
    cost: jobCost(input, { oxygen, fuelGas, elapsedS: time.elapsedS, supply }),
    notes: notes(job),
  }
}

function jobTime({ input, works }: Job): EstimateResult['time'] {
  const sum = addTimes(works.map((work) => work.estimate.time))
  const litS = sum.cuttingS + sum.startS + sum.idleS
  const lightUps = input.lightUps ?? Math.ceil(litS / LIT_SECONDS_PER_LIGHT_UP)
  const lightUpS = lightUps * LIGHT_UP_SECONDS
  const torchS = litS + lightUpS
  const operatingFactor = input.operatingFactor ?? OPERATING_FACTOR
  const torches = input.torches ?? 1
  return {
    ...sum,
    lightUps,
    lightUpS,
    torchS,
    elapsedS: torchS / operatingFactor / torches,
    source: source(
      'jobTime',
      {
        lightUps: [lightUps, '1'],
        operatingFactor: [operatingFactor, '1'],
        torches: [torches, '1'],
      },
      { provenance: 'common practice' },
    ),
  }
}

/** Purging and lighting, at the richest flame of the list. */
function lightUpKg(
  { fuel, works, factor }: Job,
  lightUpS: number,
): { oxygen: number; fuel: number } {
  const fuelM3 = Math.max(0, ...works.map((work) => work.richFuelM3PerS)) * lightUpS * factor
  return {
    oxygen: gasKgFromM3('oxygen', fuelM3 * preheatRatio(fuel).mean),
    fuel: gasKgFromM3(fuel, fuelM3),
  }
}

type AmountInput = {
  job: Job
  gas: GasCode
  pick: (work: CutWork) => GasWork
  lightUpKg: number
  floorKg: number
}

function gasAmount({ job, gas, pick, lightUpKg: lightUp, floorKg }: AmountInput): GasAmount {
  const gases = job.works.map(pick)
  const total = (key: keyof GasWork['terms']) =>
    gases.reduce((sum, work) => sum + work.terms[key], 0)
  const terms = {
    cutting: total('cutting'),
    preheat: total('preheat'),
    start: total('start'),
    lightUp,
    idle: total('idle'),
  }
  const mean = gases.reduce((sum, work) => sum + totalOf(work.terms), 0) + lightUp
  const crew = job.input.crewFactor
  // A crew whose use is known replaces the doubt about the table by the doubt about its factor.
  const common = crew
    ? (mean * crew.standardUncertainty) / crew.mean
    : gases.reduce((sum, work) => sum + work.common, 0) + LIGHT_UP_RELATIVE_U * lightUp
  const standardUncertainty = quadrature([common, ...gases.map((work) => work.own)])
  const interval = lognormalInterval({ mean, standardUncertainty })
  return {
    ...interval,
    low90: Math.max(floorKg, interval.low90),
    gas,
    terms,
    source: source(
      'gasOfJob',
      {
        cutting: [terms.cutting, 'kg'],
        preheat: [terms.preheat, 'kg'],
        start: [terms.start, 'kg'],
        lightUp: [lightUp, 'kg'],
        idle: [terms.idle, 'kg'],
        floor: [floorKg, 'kg'],
        crewFactor: [job.factor, '1'],
        commonUncertainty: [common, 'kg'],
      },
      { tableId: job.chart.id, provenance: job.chart.provenance },
    ),
  }
}

/** Judgement, no source: lighting takes half as long or half as much again. */
const LIGHT_UP_RELATIVE_U = 0.5

function notes({ input, chart, fuel, works }: Job): string[] {
  const judged = works.some((work) => work.estimate.positionMultiplier.value > 1)
  return [
    ...(chart.provenance === 'from memory' ? ['tableFromMemory'] : []),
    'judgedTimes',
    ...(judged ? ['judgedMultiplier'] : []),
    ...(works.some((work) => work.floorBinds) ? ['floorBinds'] : []),
    ...(fuel === 'natural_gas' ? ['pipedGas'] : []),
    ...(input.crewFactor ? ['crewFactorUsed'] : []),
    ...(works.every((work) => work.estimate.remainingCount === 0) ? ['allCutsDone'] : []),
  ]
}

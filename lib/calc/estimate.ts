import { prepareCut } from './cut-check'
import { cutNumbers, emptyNumbers } from './cut-numbers'
import { emptyRuns } from './cut-runs'
import { PURITY_PCT } from './cut-times'
import { cutCheck, type EstimateContext, estimateContext } from './estimate-context'
import { jobCost } from './estimate-cost'
import { describeCut } from './estimate-cut'
import { jobSupply, jobWithdrawal } from './estimate-job-supply'
import {
  addNumbers,
  type EstimateTotals,
  emptySums,
  type JobGas,
  totalsOf,
} from './estimate-totals'
import type {
  CutEstimate,
  CutInput,
  EstimateInput,
  EstimateOutcome,
  GasAmount,
} from './estimate-types'
import type { GasCode } from './gas-data'
import { type Refusal, refuse } from './refusal'
import { OFC_CARBON_STEEL } from './tables/ofc-carbon-steel'
import type { TipChart } from './tables/tip-chart'
import { chartReport } from './tip-chart-check'
import { source } from './trace'
import { CALC_VERSION } from './version'

/**
 * What a cut list takes: settings, time, oxygen and fuel with their uncertainty, weight of the pieces,
 * cylinders, manifold and cost, each number with its source.
 *
 * The numbers are those of `estimateTotals`, cut by cut. Oxygen is never below what burning the kerf takes.
 *
 * @param input fuel, cuts and what is known of the job; all in SI
 * @returns the estimate with the source of every number, or every refusal at once
 * @source `OFC_CARBON_STEEL` (from memory) or the shop's own chart; `lib/calc/judgements`
 */
export function estimateCutList(input: EstimateInput): EstimateOutcome {
  const { cuts, ...settings } = input
  const outcome = estimateContext(settings)
  const refusals = [
    ...(outcome.ok ? [] : outcome.refusals),
    ...cutRefusals(cuts, settings.tipChart ?? OFC_CARBON_STEEL),
  ]
  if (!outcome.ok || refusals.length > 0) return refuse(refusals)
  return assemble(input, outcome.context)
}

/** Every reason why a cut can't be estimated, by its place in the list. */
function cutRefusals(cuts: readonly CutInput[], chart: TipChart): Refusal[] {
  if (cuts.length === 0) return [{ code: 'NO_CUTS', field: 'cuts', value: 0, limit: { min: 1 } }]
  const check = cutCheck(chart)
  const runs = emptyRuns()
  for (const [index, cut] of cuts.entries()) prepareCut(cut, index, check, runs)
  return check.refusals
}

function assemble(input: EstimateInput, context: EstimateContext): EstimateOutcome {
  const { cuts, totals } = describeCuts(input.cuts, context)
  const { time } = totals
  const oxygen = gasAmount('oxygen', totals.oxygen, totals.oxygenFloorKg, context)
  const fuelGas = gasAmount(context.fuel, totals.fuel, 0, context)
  const job = { input, fuel: context.fuel, richFuelM3PerS: totals.richFuelM3PerS }
  const supply = jobSupply(job, { oxygen, fuelGas, torchS: time.torchS })
  if (supply.refusals.length > 0) return refuse(supply.refusals)
  return {
    ok: true,
    calcVersion: CALC_VERSION,
    fuel: context.fuel,
    tableId: context.chart.id,
    cuts,
    oxygen,
    fuelGas,
    oxygenFloorKg: totals.oxygenFloorKg,
    chartRowsBelowFloor: chartReport(context.chart)
      .filter((row) => row.isBelowFloor)
      .map((row) => row.row),
    time: { ...time, source: timeSource(time, context) },
    supply: { oxygen: supply.oxygen, fuel: supply.fuel },
    withdrawal: jobWithdrawal(job),
    cost: jobCost(input, { oxygen, fuelGas, elapsedS: time.elapsedS, supply }),
    notes: notes(input, totals, context),
  }
}

type Totals = Omit<EstimateTotals, 'refused' | 'refusals'>

function describeCuts(
  cuts: readonly CutInput[],
  context: EstimateContext,
): { cuts: CutEstimate[]; totals: Totals } {
  const check = cutCheck(context.chart)
  const [sums, runs, numbers] = [emptySums(), emptyRuns(), emptyNumbers()]
  const described = cuts.map((cut, index) => {
    prepareCut(cut, index, check, runs)
    cutNumbers(cut, runs, context, numbers)
    addNumbers(sums, numbers, context.judged.rigAbove)
    return describeCut(cut, runs, numbers, context)
  })
  return { cuts: described, totals: totalsOf(sums, context) }
}

function timeSource(time: Totals['time'], { settings, judged }: EstimateContext) {
  return source(
    'jobTime',
    {
      lightUps: [time.lightUps, '1'],
      operatingFactor: [settings.operatingFactor ?? judged.operatingFactor, '1'],
      torches: [settings.torches ?? 1, '1'],
      travelS: [time.travelS, 's'],
    },
    { provenance: 'common practice' },
  )
}

function gasAmount(
  gas: GasCode,
  { commonKg, ...amount }: JobGas,
  floorKg: number,
  { chart, factor }: EstimateContext,
): GasAmount {
  const { terms } = amount
  return {
    ...amount,
    gas,
    source: source(
      'gasOfJob',
      {
        cutting: [terms.cutting, 'kg'],
        preheat: [terms.preheat, 'kg'],
        start: [terms.start, 'kg'],
        lightUp: [terms.lightUp, 'kg'],
        idle: [terms.idle, 'kg'],
        floor: [floorKg, 'kg'],
        crewFactor: [factor, '1'],
        commonUncertainty: [commonKg, 'kg'],
      },
      { tableId: chart.id, provenance: chart.provenance },
    ),
  }
}

function notes(input: EstimateInput, totals: Totals, context: EstimateContext): string[] {
  const purity = input.oxygenPurityPct ?? PURITY_PCT.normal
  const isSaid = (says: boolean, code: string) => (says ? [code] : [])
  return [
    ...isSaid(context.chart.provenance === 'from memory', 'tableFromMemory'),
    'judgedTimes',
    ...isSaid(totals.isJudged, 'judgedMultiplier'),
    ...isSaid(totals.isFloored, 'floorBinds'),
    ...isSaid(context.fuel === 'natural_gas', 'pipedGas'),
    ...isSaid(input.crewFactor !== undefined, 'crewFactorUsed'),
    ...isSaid(purity < PURITY_PCT.published, 'purityBelowPublished'),
    ...isSaid(input.ownFuelFlowM3PerS !== undefined, 'ownFuelFlowUsed'),
    ...isSaid(
      input.cuts.some((cut) => cut.own !== undefined),
      'ownSettingsUsed',
    ),
    ...isSaid(totals.remaining === 0, 'allCutsDone'),
  ]
}

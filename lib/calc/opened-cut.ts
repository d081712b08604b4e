import { estimateCutList } from './estimate'
import type {
  CutCondition,
  CutEstimate,
  CutInput,
  EstimateInput,
  GasAmount,
  Position,
} from './estimate-types'
import { JUDGEMENTS, type Judged, judgedWith, SLOWS_STARTS } from './judgements'
import type { Source, Traced } from './source'
import { lognormalInterval } from './stats'
import { OFC_CARBON_STEEL } from './tables/ofc-carbon-steel'

/** A tip of the shop's: what it is called there, and its hole. */
export type ShopTip = Readonly<{ orificeM: number; shopTip: string }>

/** All that an estimate takes but its cuts. */
export type ListSettings = Omit<EstimateInput, 'cuts'>

type TermCode = 'cutting' | 'preheat' | 'start' | 'idle'

/** A multiplier and what it adds: judgement, or the crew's own record. */
export type CutStep = Readonly<{
  code: Exclude<Position, 'flat'> | CutCondition | 'purity' | 'crew'
  /** Of the purity its percent. */
  multiplier: number
  /** What it usually is, where it was changed for this list. */
  usual: number | null
  /** Not the cutting alone. */
  slowsStarts: boolean
  kg: number
}>

/** One gas of one cut, term by term; they add up to the mean. */
export type CutGas = Readonly<{
  meanKg: number
  low90Kg: number
  high90Kg: number
  /** Of the cut lying flat and clean, by the table. */
  terms: readonly { code: TermCode; kg: number }[]
  /** What position, each condition and the crew add, one after another. */
  steps: readonly CutStep[]
  source: Source
}>

export type CutOpened = Readonly<{
  oxygen: CutGas
  fuel: CutGas
  /** Of the run that is longest: what the torch is set to. */
  settings: {
    /** By area and not by length: gouged or washed off. */
    isArea: boolean
    lengthM: number
    runs: number
    pathM: number
    speedMPerS: number
    cuttingOxygenM3PerS: number
    preheatOxygenM3PerS: number
    fuelM3PerS: number
    orificeM: number | null
    tip: ShopTip | null
    oxygenPressureGaugeKpa: number | null
  } | null
  time: CutEstimate['time']
  floorKg: number
  /** Judged multipliers are held at this together; null while they stay below it. */
  boundedAt: number | null
  table: { title: string; source: string; provenance: string }
}>

const TERM_CODES = ['cutting', 'preheat', 'start', 'idle'] as const

/** One cut by itself: without what slows it and without the crew, then with one more of these at a time. */
type Step = Omit<CutStep, 'kg'>
type Stage = Readonly<{ step: Step | null; cut: CutEstimate }>

type With = Readonly<{ purity: boolean; crew: boolean }>
const WHOLE: With = { purity: true, crew: true }

/** Estimates a cut alone by the list's own norms; null where it gives no number. */
function alone(cut: CutInput, list: ListSettings, has: With) {
  const { fuel, tipChart, crewFactor, oxygenPurityPct, ownFuelFlowM3PerS, judgements } = list
  const outcome = estimateCutList({
    fuel,
    ...(tipChart ? { tipChart } : {}),
    ...(ownFuelFlowM3PerS ? { ownFuelFlowM3PerS } : {}),
    ...(judgements ? { judgements } : {}),
    ...(has.purity && oxygenPurityPct !== undefined ? { oxygenPurityPct } : {}),
    ...(has.crew && crewFactor ? { crewFactor } : {}),
    cuts: [cut],
  })
  return outcome.ok ? outcome : null
}

type JudgedCode = Exclude<Position, 'flat'> | CutCondition

/** The judged steps of a cut in the order in which they are multiplied. */
function judgedSteps({ position = 'flat', conditions = [] }: CutInput, judged: Judged): Step[] {
  const of = (code: JudgedCode, slowsStarts: boolean): Step => ({
    code,
    multiplier: judged[code],
    slowsStarts,
    usual: judged[code] === JUDGEMENTS[code].usual ? null : JUDGEMENTS[code].usual,
  })
  return [
    ...(position === 'flat' ? [] : [of(position, false)]),
    ...conditions.map((code) => of(code, SLOWS_STARTS[code])),
  ]
}

function stagesOf(cut: CutInput, list: ListSettings): Stage[] {
  const { position: _position, conditions: _conditions, ...plain } = cut
  const { crewFactor, oxygenPurityPct, judgements } = list
  const steps = judgedSteps(cut, judgedWith(judgements))
  const withSteps = (count: number): CutInput => {
    const codes = steps.slice(0, count).map((step) => step.code)
    const conditions = (cut.conditions ?? []).filter((code) => codes.includes(code))
    const position = codes.find((code) => code === cut.position) ? cut.position : undefined
    return { ...plain, conditions, ...(position ? { position } : {}) }
  }
  const stage = (count: number, has: With, step: Stage['step']): Stage[] => {
    const found = alone(withSteps(count), list, has)?.cuts[0]
    return found ? [{ step, cut: found }] : []
  }
  const all = steps.length
  const table = { purity: false, crew: false }
  const known = { slowsStarts: true, usual: null }
  return [
    ...stage(0, table, null),
    ...steps.flatMap((step, index) => stage(index + 1, table, step)),
    ...(oxygenPurityPct === undefined
      ? []
      : stage(
          all,
          { ...table, purity: true },
          {
            ...known,
            code: 'purity',
            multiplier: oxygenPurityPct,
          },
        )),
    ...(crewFactor
      ? stage(all, WHOLE, { ...known, code: 'crew', multiplier: crewFactor.mean })
      : []),
  ]
}

type AmountOf = (cut: CutEstimate) => Traced

/** Terms of the plain cut, then what each step adds to it: together they are the mean. */
function termsOf(stages: readonly Stage[], amountOf: AmountOf) {
  const [plain, ...rest] = stages
  if (!plain) return { terms: [], steps: [] }
  const { source, value } = amountOf(plain.cut)
  const kgOf = (code: TermCode) =>
    Number(source.inputs.find((input) => input.name === code)?.value ?? 0)
  let before = value
  const steps = rest.flatMap(({ step, cut }): CutStep[] => {
    const kg = amountOf(cut).value - before
    before += kg
    return step ? [{ ...step, kg }] : []
  })
  return {
    terms: TERM_CODES.map((code) => ({ code, kg: kgOf(code) })).filter((term) => term.kg > 0),
    steps,
  }
}

/** The shop's nearest tip, if its hole is within a quarter of what the table asks. House judgement, no source. */
const NEAR_ENOUGH = 0.25

function nearestTip(orificeM: number | null, tips: readonly ShopTip[]): ShopTip | null {
  if (orificeM === null) return null
  const off = (tip: ShopTip) => Math.abs(tip.orificeM - orificeM)
  const near = tips.filter((tip) => off(tip) <= NEAR_ENOUGH * orificeM)
  return near.reduce<ShopTip | null>(
    (best, tip) => (best && off(best) <= off(tip) ? best : tip),
    null,
  )
}

function settingsOf(cut: CutEstimate, tips: readonly ShopTip[]): CutOpened['settings'] {
  const longest = cut.segments.reduce<CutEstimate['segments'][number] | null>(
    (best, segment) =>
      best && best.lengthM.value * best.count >= segment.lengthM.value * segment.count
        ? best
        : segment,
    null,
  )
  if (!longest) return null
  const orificeM = longest.orificeM?.value ?? null
  return {
    isArea: longest.part === 'surface',
    lengthM:
      cut.segments.reduce((sum, segment) => sum + segment.lengthM.value * segment.count, 0) *
      cut.remainingCount,
    runs: cut.segments.reduce((sum, segment) => sum + segment.count, 0) * cut.remainingCount,
    pathM: longest.pathM.value,
    speedMPerS: longest.speedMPerS.value,
    cuttingOxygenM3PerS: longest.cuttingOxygenM3PerS.value,
    preheatOxygenM3PerS: longest.preheatOxygenM3PerS.value,
    fuelM3PerS: longest.fuelM3PerS.value,
    orificeM,
    tip: nearestTip(orificeM, tips),
    oxygenPressureGaugeKpa: cut.oxygenPressureGaugeKpa?.value ?? null,
  }
}

function boundOf(cut: CutInput, judged: Judged): number | null {
  const most = judged.mostTimes
  const product = judgedSteps(cut, judged).reduce((times, step) => times * step.multiplier, 1)
  return product > most ? most : null
}

/**
 * Where the numbers of one cut come from: each gas term by term, then what each multiplier adds.
 *
 * @param cut as the estimate takes it
 * @param list the norms of its list; tips the shop's own, for the nearest to what the table asks
 * @returns terms (kg) that add up to the mean, with its 90 % interval; null for a cut that has no number
 * @source `estimateCutList`
 */
export function openedCut(
  cut: CutInput,
  list: ListSettings,
  tips: readonly ShopTip[] = [],
): CutOpened | null {
  // The doubt about a cut by itself is that of a list that holds nothing else.
  const byItself = alone(cut, list, WHOLE)
  const found = byItself?.cuts[0]
  if (!byItself || !found || found.remainingCount === 0) return null
  const stages = stagesOf(cut, list)
  const gas = (amountOf: AmountOf, { standardUncertainty }: GasAmount): CutGas => {
    const { value, source } = amountOf(found)
    const { mean, low90, high90 } = lognormalInterval({ mean: value, standardUncertainty })
    return {
      meanKg: mean,
      low90Kg: low90,
      high90Kg: high90,
      source,
      ...termsOf(stages, amountOf),
    }
  }
  const { title, source, provenance } = list.tipChart ?? OFC_CARBON_STEEL
  return {
    oxygen: gas((one) => one.oxygenKg, byItself.oxygen),
    fuel: gas((one) => one.fuelKg, byItself.fuelGas),
    settings: settingsOf(found, tips),
    time: found.time,
    floorKg: found.oxygenFloorKg.value,
    boundedAt: boundOf(cut, judgedWith(list.judgements)),
    table: { title, source, provenance },
  }
}

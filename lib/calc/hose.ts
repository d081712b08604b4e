import { numberRefusals, type Outcome } from './check-numbers'
import { type FuelCode, GASES, type GasCode } from './gas-data'
import { type HoseFlow, hoseStartAbsKpa } from './hose-loss'
import { input, type Measured, measure } from './measured'
import { type Refusal, refuse } from './refusal'
import { rectangular } from './stats'
import {
  HOSE_BORE_CODES,
  HOSE_BORES,
  HOSE_GRADES,
  HOSE_WORKING_PSIG,
  HOSES_ID,
  type HoseBore,
  type HoseGrade,
} from './tables/hoses'
import {
  absKpaFromGaugeKpa,
  gaugeKpaFromPsig,
  STANDARD_PRESSURE_KPA,
  STANDARD_TEMPERATURE_K,
  UNITS,
} from './units'

export type HoseInput = {
  gas: GasCode
  flowM3PerS: number
  flowRelativeUncertainty?: number
  bore: HoseBore
  lengthM: number
  /** What the tip's chart asks for, where the chart measures it: at the torch inlet. */
  tipGaugePressureKpa: number
  /** Losses stated by makers at this flow: an arrestor at the regulator, check valves and torch at the other end. */
  lossesAtRegulatorKpa?: number
  lossesAtTorchKpa?: number
  temperatureK?: number
}

export type HoseSetting = Outcome<{
  /** What to set on the regulator. */
  regulatorGaugePressureKpa: Measured
  hoseLossKpa: Measured
  /** Longest hose of this bore that this flow allows under the gas's own or the hose's limit. */
  longestM: number | null
  limitGaugeKpa: number
}>

/** Judgement, no source: fittings, bends and age over a straight smooth tube, and how far that may be off. */
const FRICTION = { value: 1.15, halfWidth: 0.15 } as const
/** Judgement, no source: bores differ from their name by this. */
const BORE_TOLERANCE = 0.03
const FLOW_RELATIVE_U = 0.05
const MAX_LENGTH_M = 150

/**
 * Regulator setting so that the tip sees its pressure at the end of the hose.
 *
 * @param known gas, flow (m³/s at 70 °F and 1 atm), bore, length (m), pressure wanted at the torch (kPa gauge)
 * @returns kPa gauge with uncertainty; refused where acetylene would pass 15 psig anywhere, or the hose its working
 *   pressure, naming the longest hose and the next bore that works
 * @remarks The highest pressure is at the regulator, so that is where the limit is held.
 * @source `hoseStartAbsKpa`; 15 psig: 29 CFR 1910.253(a)(2) (read); 200 psig working pressure from memory
 */
export function hoseSetting(known: HoseInput): HoseSetting {
  const refusals = check(known)
  if (refusals.length > 0) return refuse(refusals)
  const limitGaugeKpa = limitOf(known.gas)
  const needed = settingKpa(known, known.bore, known.lengthM)
  if (needed === null || needed > limitGaugeKpa * (1 + 1e-9))
    return refuse([tooMuch(known, limitGaugeKpa)])
  return {
    ok: true,
    regulatorGaugePressureKpa: settingOf(known, 'regulatorSetting'),
    hoseLossKpa: settingOf(known, 'hoseLoss'),
    longestM: longestHoseM(known, known.bore),
    limitGaugeKpa,
  }
}

/**
 * Longest hose of a bore that brings a flow to the torch within the limit.
 *
 * @param known as `hoseSetting`; its length does not count
 * @param bore the bore
 * @returns m, at most 150; null where even no hose would do
 */
export function longestHoseM(known: HoseInput, bore: HoseBore): number | null {
  const limit = limitOf(known.gas)
  const fits = (lengthM: number) => {
    const kpa = settingKpa(known, bore, lengthM)
    return kpa !== null && kpa <= limit
  }
  if (!fits(0)) return null
  if (fits(MAX_LENGTH_M)) return MAX_LENGTH_M
  const bracket = { low: 0, high: MAX_LENGTH_M }
  for (let i = 0; i < 50; i += 1) {
    const middle = (bracket.low + bracket.high) / 2
    if (fits(middle)) bracket.low = middle
    else bracket.high = middle
  }
  return bracket.low
}

/**
 * Whether a grade of hose is for a fuel.
 *
 * @param known the fuel and the grade
 * @returns the grades that are; refused when this one is not
 * @source `tables/hoses`
 */
export function hoseGrade(known: {
  fuel: FuelCode
  grade: HoseGrade
}): Outcome<{ grades: HoseGrade[] }> {
  const grades = (Object.keys(HOSE_GRADES) as HoseGrade[]).filter((grade) =>
    HOSE_GRADES[grade].includes(known.fuel),
  )
  if (grades.includes(known.grade)) return { ok: true, grades }
  return refuse([
    {
      code: 'HOSE_GRADE_WRONG',
      field: 'grade',
      value: known.grade,
      limit: { allowed: grades },
      because: 'fuelAttacksLining',
    },
  ])
}

/** Highest pressure that may stand in a hose of the gas, kPa gauge. */
function limitOf(gas: GasCode): number {
  return Math.min(GASES[gas].maxUseGaugeKpa ?? Infinity, gaugeKpaFromPsig(HOSE_WORKING_PSIG))
}

function boreM(bore: HoseBore): number {
  return HOSE_BORES[bore].boreIn * UNITS.in.toBase
}

function flowOf(known: HoseInput, bore: HoseBore, lengthM: number): HoseFlow {
  return {
    gas: known.gas,
    flowM3PerS: known.flowM3PerS,
    boreM: boreM(bore),
    lengthM,
    temperatureK: known.temperatureK ?? STANDARD_TEMPERATURE_K,
    frictionFactor: FRICTION.value,
  }
}

function endAbsKpa(known: HoseInput): number {
  return absKpaFromGaugeKpa(known.tipGaugePressureKpa + (known.lossesAtTorchKpa ?? 0))
}

function settingKpa(known: HoseInput, bore: HoseBore, lengthM: number): number | null {
  const start = hoseStartAbsKpa(flowOf(known, bore, lengthM), endAbsKpa(known))
  return start === null ? null : start - STANDARD_PRESSURE_KPA + (known.lossesAtRegulatorKpa ?? 0)
}

function settingOf(known: HoseInput, code: 'regulatorSetting' | 'hoseLoss'): Measured {
  const flow = flowOf(known, known.bore, known.lengthM)
  const u = known.flowRelativeUncertainty ?? FLOW_RELATIVE_U
  const end = endAbsKpa(known)
  const startAt = (at: { flowM3PerS: number; boreM: number; frictionFactor: number }) =>
    // A neighbour that would choke counts as the whole way to the limit.
    hoseStartAbsKpa({ ...flow, ...at }, end) ?? absKpaFromGaugeKpa(limitOf(known.gas))
  const losses = known.lossesAtRegulatorKpa ?? 0
  return measure({
    formulaCode: code,
    unit: 'kPa',
    min: 0,
    tableId: HOSES_ID,
    inputs: {
      flowM3PerS: input(flow.flowM3PerS, 'm³/s', {
        u: u * flow.flowM3PerS,
        provenance: known.flowRelativeUncertainty === undefined ? 'common practice' : 'entered',
        min: 0,
      }),
      boreM: input(flow.boreM, 'm', {
        u: rectangular(BORE_TOLERANCE * flow.boreM),
        provenance: 'common practice',
      }),
      frictionFactor: input(FRICTION.value, '1', {
        u: rectangular(FRICTION.halfWidth),
        provenance: 'common practice',
      }),
      lengthM: input(flow.lengthM, 'm'),
      tipGaugePressureKpa: input(known.tipGaugePressureKpa, 'kPa'),
      lossesAtRegulatorKpa: input(losses, 'kPa'),
      lossesAtTorchKpa: input(known.lossesAtTorchKpa ?? 0, 'kPa'),
    },
    of: ({ flowM3PerS, boreM: bore, frictionFactor }) => {
      const start = startAt({ flowM3PerS, boreM: bore, frictionFactor })
      return code === 'hoseLoss' ? start - end : start - STANDARD_PRESSURE_KPA + losses
    },
  })
}

function tooMuch(known: HoseInput, limitGaugeKpa: number): Refusal {
  const longest = longestHoseM(known, known.bore)
  const wider = HOSE_BORE_CODES.slice(HOSE_BORE_CODES.indexOf(known.bore) + 1).find((bore) => {
    const kpa = settingKpa(known, bore, known.lengthM)
    return kpa !== null && kpa <= limitGaugeKpa
  })
  return {
    code: known.gas === 'acetylene' ? 'ACETYLENE_ABOVE_15_PSIG' : 'HOSE_CANNOT_CARRY',
    field: 'lengthM',
    value: known.lengthM,
    limit: { max: longest ?? 0, unit: 'm' },
    because: 'pressureLostInHose',
    instead: [
      ...(longest === null || longest < 1 ? [] : ['shorterHose']),
      ...(wider === undefined ? ['lessFlow'] : [`bore:${wider}`]),
    ],
  }
}

function check(known: HoseInput): Refusal[] {
  const kpa = { min: 0, max: gaugeKpaFromPsig(HOSE_WORKING_PSIG), unit: 'kPa' }
  return numberRefusals({
    flowM3PerS: [known.flowM3PerS, { min: 0, max: 1, unit: 'm3/s' }],
    flowRelativeUncertainty: [known.flowRelativeUncertainty, { min: 0, max: 1 }],
    lengthM: [known.lengthM, { min: 0, max: MAX_LENGTH_M, unit: 'm' }],
    tipGaugePressureKpa: [known.tipGaugePressureKpa, kpa],
    lossesAtRegulatorKpa: [known.lossesAtRegulatorKpa, kpa],
    lossesAtTorchKpa: [known.lossesAtTorchKpa, kpa],
    temperatureK: [known.temperatureK, { min: 230, max: 340, unit: 'K' }],
  })
}

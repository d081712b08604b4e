import { numberRefusals, type Outcome } from './check-numbers'
import { type CylinderGasCode, standardDensityKgPerM3 } from './gas-data'
import { type Input, input, type Measured, measure } from './measured'
import { type Refusal, refuse } from './refusal'
import { rectangular } from './stats'
import { HOSE_BORES, HOSES_ID, type HoseBore } from './tables/hoses'
import { absKpaFromGaugeKpa, STANDARD_PRESSURE_KPA, STANDARD_TEMPERATURE_K, UNITS } from './units'

export type LeakTestInput = {
  gas: CylinderGasCode
  hoses: { bore: HoseBore; lengthM: number }[]
  /** Regulator's low side, arrestors, torch body. */
  otherVolumeL?: number
  startGaugePressureKpa: number
  endGaugePressureKpa: number
  /** Of the gas in the hose, at start and end; without them taken as equal. */
  startTemperatureK?: number
  endTemperatureK?: number
  elapsedS: number
  /** Smallest change that can be read on this gauge. */
  resolutionKpa: number
  priceMinorPerKg?: number
}

export type LeakTest = Outcome<{
  verdict: 'outOfService' | 'noFallSeen' | 'pressureRose'
  volumeL: Measured
  /** Fall after what the temperature explains. */
  fallKpa: Measured
  /** Gas lost, m³/s at 70 °F and 1 atm. */
  leakM3PerS: Measured
  /** For information only, if it went on: kg and minor units of money in 30 days. */
  perMonthKg: Measured
  perMonthMinor: Measured | null
  /** A leak smaller than this could not have been seen in this time. */
  smallestSeenM3PerS: number
}>

/** Judgement, no source: what a regulator and a torch hold where nothing was entered. */
const OTHER_VOLUME_L = { value: 0.05, halfWidth: 0.05 } as const
/** Judgement, no source: a hose's volume by its nominal bore, stretched by pressure. */
const VOLUME_RELATIVE_U = 0.05
const TEMPERATURE_U_K = 1

/**
 * A pressure-hold test of hoses and regulator: how much leaks, and whether they may be used.
 *
 * @param known gas, hoses, gauge pressures (kPa) and temperatures (K) at start and end, time (s), what can be read
 * @returns the verdict and the leak with uncertainty; or refusals
 * @remarks Any fall beyond what the gauge can resolve is out of service, however small the leak; no regulation gives
 *   an acceptable rate. Wait until the gas has the hose's temperature.
 * @source ideal gas in the enclosed volume; the method is common practice, no source
 */
export function leakTest(known: LeakTestInput): LeakTest {
  const refusals = check(known)
  if (refusals.length > 0) return refuse(refusals)
  const inputs = inputsOf(known)
  const shared = { inputs, tableId: HOSES_ID } as const
  const fallKpa = measure({ ...shared, formulaCode: 'leakFall', unit: 'kPa', of: fallOf })
  const leakM3PerS = measure({ ...shared, formulaCode: 'leakRate', unit: 'm³/s', of: leakOf })
  const kgOf = (at: At) => Math.max(0, leakOf(at)) * 30 * UNITS.day.toBase * densityOf(known)
  const price = known.priceMinorPerKg
  return {
    ok: true,
    verdict: verdictOf(fallKpa.mean, known.resolutionKpa),
    volumeL: measure({
      ...shared,
      formulaCode: 'enclosedVolume',
      unit: 'L',
      min: 0,
      of: (at) => at.hoseL + at.otherL,
    }),
    fallKpa,
    leakM3PerS,
    perMonthKg: measure({ ...shared, formulaCode: 'leakMonth', unit: 'kg', min: 0, of: kgOf }),
    perMonthMinor:
      price === undefined
        ? null
        : measure({
            ...shared,
            formulaCode: 'leakMonthCost',
            unit: 'minor',
            min: 0,
            of: (at) => kgOf(at) * price,
          }),
    smallestSeenM3PerS:
      (((inputs.hoseL.value + inputs.otherL.value) / 1000) * known.resolutionKpa) /
      STANDARD_PRESSURE_KPA /
      known.elapsedS,
  }
}

/** A step that can be read is a fall: at the edge, out of service. */
function verdictOf(
  fallKpa: number,
  resolutionKpa: number,
): 'outOfService' | 'noFallSeen' | 'pressureRose' {
  // A gauge read to the digit may miss its own step by the last one.
  const step = resolutionKpa * (1 - 1e-9)
  if (fallKpa >= step) return 'outOfService'
  return fallKpa <= -step ? 'pressureRose' : 'noFallSeen'
}

type At = Readonly<Record<keyof ReturnType<typeof inputsOf>, number>>

function fallOf(at: At): number {
  const expected = absKpaFromGaugeKpa(at.startGaugeKpa) * (at.endK / at.startK)
  return expected - absKpaFromGaugeKpa(at.endGaugeKpa)
}

function leakOf(at: At): number {
  const volumeM3 = (at.hoseL + at.otherL) / 1000
  const standard = (fallOf(at) / STANDARD_PRESSURE_KPA) * (STANDARD_TEMPERATURE_K / at.endK)
  return (volumeM3 * standard) / at.elapsedS
}

function densityOf(known: LeakTestInput): number {
  return standardDensityKgPerM3(known.gas)
}

function inputsOf(known: LeakTestInput) {
  const hoseL = known.hoses.reduce((sum, hose) => sum + hoseVolumeL(hose), 0)
  const gaugeU = rectangular(known.resolutionKpa / 2)
  const startK = known.startTemperatureK ?? STANDARD_TEMPERATURE_K
  const endK = known.endTemperatureK ?? startK
  const kelvinU = known.endTemperatureK === undefined ? 0 : TEMPERATURE_U_K
  const gauge = (value: number): Input => input(value, 'kPa', { u: gaugeU })
  return {
    startGaugeKpa: gauge(known.startGaugePressureKpa),
    endGaugeKpa: gauge(known.endGaugePressureKpa),
    startK: input(startK, 'K', { u: kelvinU, provenance: 'common practice' }),
    endK: input(endK, 'K', { u: kelvinU, provenance: 'common practice' }),
    elapsedS: input(known.elapsedS, 's'),
    hoseL: input(hoseL, 'L', {
      u: VOLUME_RELATIVE_U * hoseL,
      provenance: 'common practice',
    }),
    otherL:
      known.otherVolumeL === undefined
        ? input(OTHER_VOLUME_L.value, 'L', {
            u: rectangular(OTHER_VOLUME_L.halfWidth),
            provenance: 'common practice',
            min: 0,
          })
        : input(known.otherVolumeL, 'L'),
  }
}

/** Volume of a hose by its nominal bore, L. */
export function hoseVolumeL({ bore, lengthM }: { bore: HoseBore; lengthM: number }): number {
  const boreM = HOSE_BORES[bore].boreIn * UNITS.in.toBase
  return (Math.PI / 4) * boreM ** 2 * lengthM * 1000
}

export type RegulatorCreep = Outcome<{
  verdict: 'outOfService' | 'noRiseSeen' | 'pressureFell'
  riseKpa: Measured
}>

/**
 * Whether a regulator creeps: with the torch shut and the cylinder open, its low side must stay.
 *
 * @param known low-side gauge pressures (kPa) and temperatures (K) at start and end, time (s), what can be read
 * @returns the verdict and the rise after what the temperature explains; or refusals
 * @remarks Any rise that the gauge can show is out of service. A fall is a leak: `leakTest`.
 * @source common practice, no source
 */
export function regulatorCreep(
  known: Pick<
    LeakTestInput,
    | 'startGaugePressureKpa'
    | 'endGaugePressureKpa'
    | 'startTemperatureK'
    | 'endTemperatureK'
    | 'elapsedS'
    | 'resolutionKpa'
  >,
): RegulatorCreep {
  const whole: LeakTestInput = { ...known, gas: 'oxygen', hoses: [], otherVolumeL: 1 }
  const refusals = check(whole)
  if (refusals.length > 0) return refuse(refusals)
  const { startGaugeKpa, endGaugeKpa, startK, endK } = inputsOf(whole)
  const riseKpa = measure({
    formulaCode: 'regulatorCreep',
    unit: 'kPa',
    inputs: { startGaugeKpa, endGaugeKpa, startK, endK },
    of: (at) => -fallOf({ ...at, elapsedS: 1, hoseL: 0, otherL: 1 }),
  })
  const seen = verdictOf(-riseKpa.mean, known.resolutionKpa)
  const verdict =
    seen === 'pressureRose'
      ? 'outOfService'
      : seen === 'outOfService'
        ? 'pressureFell'
        : 'noRiseSeen'
  return { ok: true, verdict, riseKpa }
}

function check(known: LeakTestInput): Refusal[] {
  const kpa = { min: 0, max: 22_000, unit: 'kPa' }
  const kelvin = { min: 230, max: 340, unit: 'K' }
  const lengths = known.hoses.flatMap(({ lengthM }, i) =>
    numberRefusals({ [`hoses.${i}.lengthM`]: [lengthM, { above: 0, max: 300, unit: 'm' }] }),
  )
  const start = known.startTemperatureK
  const lone: Refusal[] =
    (start === undefined) === (known.endTemperatureK === undefined)
      ? []
      : [
          {
            code: 'OUT_OF_RANGE',
            field: start === undefined ? 'startTemperatureK' : 'endTemperatureK',
            value: null,
            limit: kelvin,
          },
        ]
  return [
    ...lengths,
    ...lone,
    ...numberRefusals({
      otherVolumeL: [known.otherVolumeL, { min: 0, max: 100, unit: 'L' }],
      startGaugePressureKpa: [known.startGaugePressureKpa, { ...kpa, above: 0 }],
      endGaugePressureKpa: [known.endGaugePressureKpa, kpa],
      startTemperatureK: [start, kelvin],
      endTemperatureK: [known.endTemperatureK, kelvin],
      elapsedS: [known.elapsedS, { above: 0, max: 1e7, unit: 's' }],
      resolutionKpa: [known.resolutionKpa, { above: 0, max: 5000, unit: 'kPa' }],
      priceMinorPerKg: [known.priceMinorPerKg, { min: 0 }],
    }),
  ]
}

import {
  ACETYLENE_GAUGE_RANGE,
  ACETYLENE_LOG_SLOPE_PER_K,
  ACETYLENE_LOG_SLOPE_SPREAD_PER_K,
  acetyleneFullGaugeKpa,
  acetyleneShareFromGauge,
  acetyleneTemperatureDistanceK,
} from './acetylene-gauge'
import { assemble } from './contents-assemble'
import type { ContentsOutcome, CylinderReading, CylinderSize } from './contents-types'
import { gaugeLimit } from './gauge-class'
import { type Refusal, refuse } from './refusal'
import type { Term } from './source'
import { rectangular } from './stats'
import { term } from './trace'
import { absKpaFromGaugeKpa, gaugeKpaFromPsig, STANDARD_PRESSURE_KPA } from './units'

type GaugeReading = Extract<CylinderReading, { kind: 'gauge' }>

/** Service pressure of a DOT 8 cylinder, 250 psig at 70 °F. @source 49 CFR 178.59 (read). */
export const ACETYLENE_RATED_GAUGE_KPA = gaugeKpaFromPsig(250)

/** Common practice, no source: a regulator's acetylene gauge. */
const FULL_SCALE_KPA = gaugeKpaFromPsig(400)
/** Judgement, no source: the solution lags the air and cools while gas is drawn. */
const TEMPERATURE_U_K = 4
/** @source the three printed mixtures lie within 6 % of proportionality. */
const HENRY_TOLERANCE = 0.06
/** Judgement, no source: solvent lost or over-filled, and settling after use, of nominal contents. */
const SOLVENT_U_OF_NOMINAL = 0.06

/**
 * Acetylene by gauge: accepted because nobody weighs a bottle on a platform, with the interval it deserves.
 *
 * @param reading gauge pressure (kPa) and temperature (K)
 * @param size nominal contents; rated pressure defaults to 250 psig
 * @returns contents, typically ± 20 % of a full cylinder at 90 %, or refusals
 * @source `acetyleneShareFromGauge`
 */
export function acetyleneContents(reading: GaugeReading, size: CylinderSize): ContentsOutcome {
  const refusals = check(reading)
  if (refusals.length > 0) return refuse(refusals)
  const { gaugePressureKpa, temperatureK } = reading
  const ratedGaugePressureKpa = size.ratedGaugePressureKpa ?? ACETYLENE_RATED_GAUGE_KPA
  const share = acetyleneShareFromGauge({ gaugePressureKpa, temperatureK, ratedGaugePressureKpa })
  return assemble(size, share * size.nominalKg, terms(reading, size, ratedGaugePressureKpa), {
    formulaCode: 'acetyleneByGauge',
    inputs: [
      { name: 'gaugePressureKpa', value: gaugePressureKpa, unit: 'kPa' },
      { name: 'temperatureK', value: temperatureK, unit: 'K' },
      { name: 'ratedGaugePressureKpa', value: ratedGaugePressureKpa, unit: 'kPa' },
      { name: 'nominalKg', value: size.nominalKg, unit: 'kg' },
    ],
    tableId: 'acetylene-over-acetone',
    provenance: 'derived',
  })
}

function check({ gaugePressureKpa, temperatureK }: GaugeReading): Refusal[] {
  const { minTemperatureK: min, maxTemperatureK: max } = ACETYLENE_GAUGE_RANGE
  const top = gaugeKpaFromPsig(600)
  const refusals: Refusal[] = []
  if (!(gaugePressureKpa >= 0 && gaugePressureKpa <= top)) {
    refusals.push({
      code: 'OUTSIDE_FIT',
      field: 'reading.gaugePressureKpa',
      value: gaugePressureKpa,
      limit: { min: 0, max: top, unit: 'kPa' },
    })
  }
  if (!(temperatureK >= min && temperatureK <= max)) {
    refusals.push({
      code: 'OUTSIDE_FIT',
      field: 'reading.temperatureK',
      value: temperatureK,
      limit: { min, max, unit: 'K' },
    })
  }
  return refusals
}

function terms(reading: GaugeReading, size: CylinderSize, ratedKpa: number): Term[] {
  const distanceK = acetyleneTemperatureDistanceK(reading.temperatureK)
  const fullAtHereKpa =
    acetyleneFullGaugeKpa({ ratedGaugePressureKpa: ratedKpa, temperatureK: reading.temperatureK }) +
    STANDARD_PRESSURE_KPA
  const kgPerKpa = (size.nominalKg / ratedKpa) * (absKpaFromGaugeKpa(ratedKpa) / fullAtHereKpa)
  const dissolvedKg = kgPerKpa * absKpaFromGaugeKpa(reading.gaugePressureKpa)
  const { limitKpa, provenance } = gaugeLimit({
    gauge: reading.gauge,
    gaugePressureKpa: reading.gaugePressureKpa,
    defaultFullScaleKpa: FULL_SCALE_KPA,
  })
  const gaugeU = rectangular(limitKpa)
  const temperatureU = reading.temperatureStandardUncertaintyK ?? TEMPERATURE_U_K
  const slopeU = rectangular(ACETYLENE_LOG_SLOPE_SPREAD_PER_K)
  const solventU = SOLVENT_U_OF_NOMINAL * size.nominalKg
  const warmthKg = dissolvedKg * ACETYLENE_LOG_SLOPE_PER_K * temperatureU
  return [
    term('gauge', [gaugeU, 'kPa'], kgPerKpa * gaugeU, provenance),
    term('temperature', [temperatureU, 'K'], warmthKg, 'common practice'),
    term('temperatureSlope', [slopeU, '1/K'], dissolvedKg * slopeU * distanceK, 'read'),
    term(
      'proportionality',
      [HENRY_TOLERANCE, '1'],
      rectangular(HENRY_TOLERANCE * dissolvedKg),
      'read',
    ),
    term('solvent', [SOLVENT_U_OF_NOMINAL, '1'], solventU, 'common practice'),
  ]
}

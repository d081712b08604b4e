import { acetyleneShareFromGauge } from '@/lib/calc/acetylene-gauge'
import { contentsFromReading } from '@/lib/calc/contents'
import type { CylinderReading, CylinderSize } from '@/lib/calc/contents-types'
import { oxygenGaugePressureKpa } from '@/lib/calc/oxygen-real-gas'
import { gaugeKpaFromPsig, kelvinFromCelsius } from '@/lib/calc/units'
import type { Row } from '../facts'
import type { Chance } from '../random'
import { type SizeId, sizeOf } from '../reference'

/** A gauge of class 2.5 % of 4,000 psi is read to about this, one standard deviation (common practice, no source). */
const GAUGE_NOISE_KPA = gaugeKpaFromPsig(22)
const ACETYLENE_GAUGE_NOISE_KPA = gaugeKpaFromPsig(4)
const SCALE_NOISE_KG = 0.12
const MARKS_KPA = gaugeKpaFromPsig(10)

/** A size as lib/calc takes it. */
export function calcSize(id: SizeId): CylinderSize {
  const size = sizeOf(id)
  return {
    gas: size.gas,
    nominalKg: size.nominalKg,
    ...(size.fullGaugeKpa === null ? {} : { ratedGaugePressureKpa: size.fullGaugeKpa }),
    ...(size.gas === 'oxygen' && size.waterVolumeL !== null
      ? { waterVolumeL: size.waterVolumeL }
      : {}),
  }
}

const MEAN_C: Readonly<Record<string, number>> = {
  'America/New_York': 10,
  'America/Los_Angeles': 15,
  'America/Chicago': 9,
  'America/Denver': 9,
  'America/Phoenix': 23,
}

/** Air at a zone's sites on a day: a year's wave and some weather. Invented, no record of any place. */
export function airTemperatureK(zone: string, day: string, chance: Chance): number {
  const dayOfYear = (Date.parse(`${day}T12:00:00Z`) / 86_400_000) % 365.25
  const season = -11 * Math.cos((2 * Math.PI * (dayOfYear - 20)) / 365.25)
  const celsius = (MEAN_C[zone] ?? 12) + season + chance.normal(0, 2.5)
  return kelvinFromCelsius(Math.min(38, Math.max(-18, celsius)))
}

function acetyleneGaugeKpa(gasKg: number, sizeId: SizeId, temperatureK: number): number {
  const share = gasKg / sizeOf(sizeId).nominalKg
  const bracket = { low: 0, high: gaugeKpaFromPsig(390) }
  for (let i = 0; i < 40; i += 1) {
    const middle = (bracket.low + bracket.high) / 2
    const size = calcSize(sizeId)
    const here = acetyleneShareFromGauge({
      gaugePressureKpa: middle,
      temperatureK,
      ratedGaugePressureKpa: size.ratedGaugePressureKpa ?? 0,
    })
    if (here < share) bracket.low = middle
    else bracket.high = middle
  }
  return (bracket.low + bracket.high) / 2
}

const roundTo = (value: number, step: number) => Math.max(0, Math.round(value / step) * step)

export type Observed = Readonly<{
  gaugeKpa: number | null
  weightKg: number | null
  temperatureK: number | null
  contentsKg: number
  contentsUKg: number
}>

/** What lib/calc makes of a reading, as columns. */
export function observedFrom(reading: CylinderReading, sizeId: SizeId): Observed {
  const contents = contentsFromReading(reading, calcSize(sizeId))
  if (!contents.ok) throw new Error(`reading refused: ${JSON.stringify(contents.refusals)}`)
  return {
    gaugeKpa: reading.kind === 'gauge' ? reading.gaugePressureKpa : null,
    weightKg: reading.kind === 'weight' ? reading.grossKg : null,
    temperatureK: reading.kind === 'gauge' ? reading.temperatureK : null,
    contentsKg: contents.gasKg,
    contentsUKg: contents.standardUncertaintyKg,
  }
}

export type Held = Readonly<{ sizeId: SizeId; tareKg: number; trueTareKg: number; gasKg: number }>

/** Reads a cylinder as people do: oxygen by gauge to the nearest mark, fuel on the scale unless `byGauge`. */
export function observe(
  held: Held,
  how: Readonly<{ temperatureK: number; byGauge: boolean }>,
  chance: Chance,
): Observed {
  const { sizeId, gasKg } = held
  const { temperatureK, byGauge } = how
  const size = calcSize(sizeId)
  if (size.gas === 'oxygen') {
    const trueKpa = oxygenGaugePressureKpa({
      gasKg,
      temperatureK,
      waterVolumeL: size.waterVolumeL ?? 0,
    })
    const read = roundTo(trueKpa + chance.normal(0, GAUGE_NOISE_KPA), MARKS_KPA)
    return observedFrom({ kind: 'gauge', gaugePressureKpa: read, temperatureK }, sizeId)
  }
  if (size.gas === 'acetylene' && byGauge) {
    const read =
      acetyleneGaugeKpa(gasKg, sizeId, temperatureK) + chance.normal(0, ACETYLENE_GAUGE_NOISE_KPA)
    return observedFrom(
      { kind: 'gauge', gaugePressureKpa: roundTo(read, MARKS_KPA / 2), temperatureK },
      sizeId,
    )
  }
  const grossKg = roundTo(held.trueTareKg + gasKg + chance.normal(0, SCALE_NOISE_KG), 0.1)
  return observedFrom({ kind: 'weight', grossKg, tareKg: held.tareKg }, sizeId)
}

/** A full cylinder taken at the filler's word. */
export const asDelivered = (sizeId: SizeId): Observed =>
  observedFrom({ kind: 'asDelivered' }, sizeId)

/** The columns of `cylinder_events` that an observation fills. */
export function observedColumns(observed: Observed): Row {
  return {
    gauge_kpa: observed.gaugeKpa,
    weight_kg: observed.weightKg,
    temperature_k: observed.temperatureK,
    contents_kg: observed.contentsKg,
    contents_u_kg: observed.contentsUKg,
  }
}

import { numberRefusals, type Outcome } from './check-numbers'
import { contentsFromReading } from './contents'
import type { Contents, CylinderReading, CylinderSize } from './contents-types'
import { DRAW_RELATIVE_U } from './draw-doubt'
import { input, type Measured, measure } from './measured'
import { type Refusal, refuse } from './refusal'
import { timeToChange } from './time-to-change'
import { STANDARD_TEMPERATURE_K, standardKgPerS, UNITS } from './units'

export type RunTimeInput = {
  size: CylinderSize
  reading: CylinderReading
  /** Cylinders of this size and reading that feed together. */
  cylinders?: number
  /** Where each is changed: a gauge pressure (gases told by gauge), or what is left in it. */
  changeAt?: { gaugePressureKpa: number } | { gasKg: number }
  drawM3PerS: number
  drawStandardUncertaintyM3PerS?: number
  /** Part of the working time that the torch burns, 0 to 1. */
  operatingFactor?: number
}

export type RunTime = Outcome<{
  contents: Contents
  reserveKg: number
  /** Above the reserve, of all cylinders. */
  usableKg: Measured
  /** Burning time until the change: 5, 50 and 95 % of the ways it may go. */
  burnS: { low90: number; middle: number; high90: number | null }
  /** The same on the clock, with the torch out between cuts. */
  clockS: { low90: number; middle: number; high90: number | null }
}>

/**
 * How long cylinders last down to the pressure or mass at which they are changed.
 *
 * @param input one reading and size, how many feed together, the draw (m³/s at 70 °F and 1 atm)
 * @returns usable gas (kg), burning time and clock time (s) with the 90 % interval; or refusals
 * @remarks Nobody cuts to zero: what stays below the change counts as not usable.
 * @source `contentsFromReading`, `timeToChange`
 */
export function runTime(known: RunTimeInput): RunTime {
  const { cylinders = 1, operatingFactor = 1 } = known
  const refusals = check(known)
  if (refusals.length > 0) return refuse(refusals)
  const contents = contentsFromReading(known.reading, known.size)
  if (!contents.ok) return contents
  const reserve = reserveOf(known)
  if (!reserve.ok) return reserve
  const usableKg = measure({
    formulaCode: 'usableGas',
    unit: 'kg',
    min: 0,
    inputs: {
      gasKg: input(contents.gasKg, 'kg', {
        u: contents.standardUncertaintyKg,
        provenance: contents.source.provenance,
      }),
      reserveKg: input(reserve.kg, 'kg'),
      cylinders: input(cylinders, ''),
    },
    of: (at) => Math.max(0, at.gasKg - at.reserveKg) * at.cylinders,
  })
  const burnS = burnTime(known, { contents, reserveKg: reserve.kg, cylinders })
  return {
    ok: true,
    contents,
    reserveKg: reserve.kg,
    usableKg,
    burnS,
    clockS: {
      low90: burnS.low90 / operatingFactor,
      middle: burnS.middle / operatingFactor,
      high90: burnS.high90 === null ? null : burnS.high90 / operatingFactor,
    },
  }
}

function check(known: RunTimeInput): Refusal[] {
  return numberRefusals({
    cylinders: [known.cylinders, { min: 1, max: 64 }],
    drawM3PerS: [known.drawM3PerS, { above: 0, max: 1, unit: 'm3/s' }],
    drawStandardUncertaintyM3PerS: [
      known.drawStandardUncertaintyM3PerS,
      { min: 0, max: known.drawM3PerS, unit: 'm3/s' },
    ],
    operatingFactor: [known.operatingFactor, { above: 0, max: 1 }],
  })
}

function burnTime(
  known: RunTimeInput,
  { contents, reserveKg, cylinders }: { contents: Contents; reserveKg: number; cylinders: number },
) {
  const u = known.drawStandardUncertaintyM3PerS ?? DRAW_RELATIVE_U * known.drawM3PerS
  const hour = UNITS.h.toBase
  const time = timeToChange({
    contentsKg: contents.gasKg * cylinders,
    contentsStandardUncertaintyKg: contents.standardUncertaintyKg * cylinders,
    reserveKg: reserveKg * cylinders,
    needKg: standardKgPerS(known.size.gas, known.drawM3PerS) * hour,
    needStandardUncertaintyKg: standardKgPerS(known.size.gas, u) * hour,
    needS: hour,
  })
  return { low90: time.low90S, middle: time.middleS, high90: time.high90S }
}

function reserveOf(known: RunTimeInput): Outcome<{ kg: number }> {
  const { changeAt } = known
  if (changeAt === undefined) return { ok: true, kg: 0 }
  if ('gasKg' in changeAt) {
    const limit = { min: 0, max: known.size.nominalKg, unit: 'kg' }
    const refusals: Refusal[] = numberRefusals({ 'changeAt.gasKg': [changeAt.gasKg, limit] })
    return refusals.length > 0 ? refuse(refusals) : { ok: true, kg: changeAt.gasKg }
  }
  const temperatureK =
    known.reading.kind === 'gauge' ? known.reading.temperatureK : STANDARD_TEMPERATURE_K
  const left = contentsFromReading(
    { kind: 'gauge', gaugePressureKpa: changeAt.gaugePressureKpa, temperatureK },
    known.size,
  )
  if (left.ok) return { ok: true, kg: left.gasKg }
  return refuse(
    left.refusals.map((one) => ({ ...one, field: one.field.replace('reading.', 'changeAt.') })),
  )
}

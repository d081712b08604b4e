import { z } from 'zod'
import type { AuditInput } from '../calc/audit-types'
import type { CylinderReading, CylinderSize } from '../calc/contents-types'
import type { ForecastInput } from '../calc/forecast-types'
import { CYLINDER_GAS_CODES, GAS_CODES } from '../calc/gas-data'
import { GAUGE_CLASS_CODES } from '../calc/gauge-class'
import type { WithdrawalInput } from '../calc/withdrawal-types'

// What the calculations are handed as JSON. Only the form is checked here: which numbers make sense is theirs
// to refuse, with field, value and limit. Objects are strict, so that a mistyped name is not silently left out.

const number = z.number()
const maybe = number.exactOptional()

const sizeShape = {
  gas: z.enum(CYLINDER_GAS_CODES),
  nominalKg: number,
  ratedGaugePressureKpa: maybe,
  waterVolumeL: maybe,
}
export const sizeSchema = z.strictObject(sizeShape)
export const supplySizeSchema = z.strictObject({
  ...sizeShape,
  sizeCode: z.string().exactOptional(),
  changeAtGaugePressureKpa: maybe,
  heelKg: maybe,
})

export const gaugeSchema = z.strictObject({
  fullScaleKpa: maybe,
  accuracyFractionOfFullScale: maybe,
  gaugeClass: z.enum(GAUGE_CLASS_CODES).exactOptional(),
})

export const gaugeReadingSchema = z.strictObject({
  kind: z.literal('gauge'),
  gaugePressureKpa: number,
  temperatureK: number,
  temperatureStandardUncertaintyK: maybe,
  gauge: gaugeSchema.exactOptional(),
})

export const readingSchema = z.discriminatedUnion('kind', [
  gaugeReadingSchema,
  z.strictObject({
    kind: z.literal('weight'),
    grossKg: number,
    tareKg: number,
    grossStandardUncertaintyKg: maybe,
    tareStandardUncertaintyKg: maybe,
  }),
  z.strictObject({ kind: z.literal('asDelivered') }),
])

export const contentsInputSchema: z.ZodType<{ reading: CylinderReading; size: CylinderSize }> =
  z.strictObject({ reading: readingSchema, size: sizeSchema })

export const drawOption = z.enum([
  'tenthIntermittentFifteenthContinuous',
  'seventh1916',
  'fiftyCubicFeetPerHour',
])
export const drawBasis = z.enum(['capacity', 'remaining'])

const drawDoubt = {
  remainingStandardUncertaintyKg: maybe,
  drawM3PerS: maybe,
  drawStandardUncertaintyM3PerS: maybe,
}

export const withdrawalInputSchema: z.ZodType<WithdrawalInput> = z.discriminatedUnion('gas', [
  z.strictObject({
    gas: z.literal('acetylene'),
    capacityKg: number,
    remainingKg: maybe,
    option: drawOption.exactOptional(),
    basis: drawBasis.exactOptional(),
    pattern: z.enum(['intermittent', 'continuous']).exactOptional(),
    ...drawDoubt,
  }),
  z.strictObject({
    gas: z.literal('propane'),
    remainingKg: number,
    airTemperatureK: number,
    capacityKg: number,
    outsideDiameterM: maybe,
    overallLengthM: maybe,
    airStandardUncertaintyK: maybe,
    ...drawDoubt,
  }),
])

export const auditInputSchema: z.ZodType<AuditInput> = z.strictObject({
  gas: z.enum(GAS_CODES),
  spans: z.array(
    z.strictObject({
      cylinderId: z.string(),
      readings: z.array(
        z.strictObject({
          atMs: number,
          gasKg: number,
          standardUncertaintyKg: number,
          gaugeId: z.string().nullable().exactOptional(),
        }),
      ),
    }),
  ),
  shares: z
    .array(
      z.strictObject({
        cylinderId: z.string(),
        fromMs: number,
        toMs: number,
        usageKg: number,
        standardUncertaintyKg: number,
      }),
    )
    .exactOptional(),
  estimate: z.strictObject({ meanKg: number, standardUncertaintyKg: number }),
})

export const forecastInputSchema: z.ZodType<ForecastInput> = z.strictObject({
  planned: z.array(
    z.strictObject({
      taskId: z.string(),
      cylinders: number,
      chance: number,
      groupId: z.string(),
      factorMean: number,
      factorVariance: number,
      taskCv2: number,
      fromDay: number,
      toDay: number,
    }),
  ),
  baselineDailyCounts: z.array(number).max(3660),
  prior: z.strictObject({ cylinders: number, days: number }).exactOptional(),
  stockCylinders: number,
  arrivals: z.array(z.strictObject({ day: number, cylinders: number })).exactOptional(),
  horizonDays: number,
  chance: maybe,
  leadTimeDays: maybe,
  reviewDays: maybe,
  costs: z.strictObject({ holding: number, shortage: number }).exactOptional(),
})

import { z } from 'zod'
import type { AuditInput } from '../calc/audit-types'
import type { CylinderReading, CylinderSize } from '../calc/contents-types'
import type { EstimateInput } from '../calc/estimate-types'
import type { ForecastInput } from '../calc/forecast-types'
import { CYLINDER_GAS_CODES, FUEL_CODES, GAS_CODES } from '../calc/gas-data'
import { GAUGE_CLASS_CODES } from '../calc/gauge-class'
import type { WithdrawalInput } from '../calc/withdrawal-types'

// What the calculations are handed as JSON. Only the form is checked here: which numbers make sense is theirs
// to refuse, with field, value and limit. Objects are strict, so that a mistyped name is not silently left out.

const number = z.number()
const maybe = number.exactOptional()
const range = z.tuple([number, number]).readonly()

const sizeShape = {
  gas: z.enum(CYLINDER_GAS_CODES),
  nominalKg: number,
  ratedGaugePressureKpa: maybe,
  waterVolumeL: maybe,
}
export const sizeSchema = z.strictObject(sizeShape)
const supplySizeSchema = z.strictObject({
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

const shapeSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('plate'), thicknessM: number, lengthM: number }),
  z.strictObject({ kind: z.literal('flatBar'), thicknessM: number, widthM: number }),
  z.strictObject({ kind: z.literal('squareBar'), sideM: number }),
  z.strictObject({ kind: z.literal('roundBar'), diameterM: number }),
  z.strictObject({ kind: z.literal('pipe'), outsideDiameterM: number, wallM: number }),
  z.strictObject({ kind: z.literal('wShape'), designation: z.string() }),
])

const cutSchema = z.strictObject({
  id: z.string(),
  material: z.string(),
  shape: shapeSchema,
  count: number,
  doneCount: maybe,
  bevelDeg: maybe,
  position: z.enum(['flat', 'horizontal', 'vertical', 'overhead']).exactOptional(),
  conditions: z.array(z.enum(['dirty', 'awkward'])).exactOptional(),
  process: z.enum(['hand', 'machine']).exactOptional(),
  pierced: z.boolean().exactOptional(),
  piece: z
    .union([z.strictObject({ lengthM: number }), z.strictObject({ areaM2: number })])
    .exactOptional(),
})

const tipChartSchema = z.strictObject({
  id: z.string(),
  title: z.string(),
  source: z.string(),
  provenance: z.enum(['read', 'from memory', 'derived', 'common practice', 'entered']),
  materials: z.array(z.string()),
  rows: z.array(
    z.strictObject({
      thicknessIn: number,
      orificeIn: range.nullable(),
      speedInPerMin: range,
      cuttingOxygenFt3PerH: range,
      fuelFt3PerH: z.strictObject(
        Object.fromEntries(FUEL_CODES.map((fuel) => [fuel, range.exactOptional()])),
      ),
    }),
  ),
})

export const drawOption = z.enum([
  'tenthIntermittentFifteenthContinuous',
  'seventh1916',
  'fiftyCubicFeetPerHour',
])
export const drawBasis = z.enum(['capacity', 'remaining'])

export const estimateInputSchema: z.ZodType<EstimateInput> = z.strictObject({
  fuel: z.string(),
  cuts: z.array(cutSchema).max(2000),
  tipChart: tipChartSchema.exactOptional(),
  oxygenPurityPct: maybe,
  torches: maybe,
  lightUps: maybe,
  idleFlameFraction: maybe,
  operatingFactor: maybe,
  crewFactor: z.strictObject({ mean: number, standardUncertainty: number }).exactOptional(),
  airTemperatureK: maybe,
  acetyleneDraw: z
    .strictObject({ option: drawOption.exactOptional(), basis: drawBasis.exactOptional() })
    .exactOptional(),
  oxygenSize: supplySizeSchema.exactOptional(),
  fuelSize: supplySizeSchema.exactOptional(),
  onHand: z.strictObject({ oxygenKg: maybe, fuelKg: maybe }).exactOptional(),
  prices: z
    .strictObject({
      currency: z.string().length(3),
      oxygenCylinderMinor: maybe,
      fuelCylinderMinor: maybe,
      crewHourMinor: maybe,
    })
    .exactOptional(),
})

export const withdrawalInputSchema: z.ZodType<WithdrawalInput> = z.discriminatedUnion('gas', [
  z.strictObject({
    gas: z.literal('acetylene'),
    capacityKg: number,
    remainingKg: maybe,
    option: drawOption.exactOptional(),
    basis: drawBasis.exactOptional(),
    pattern: z.enum(['intermittent', 'continuous']).exactOptional(),
    drawM3PerS: maybe,
  }),
  z.strictObject({
    gas: z.literal('propane'),
    remainingKg: number,
    airTemperatureK: number,
    capacityKg: number,
    outsideDiameterM: maybe,
    overallLengthM: maybe,
    drawM3PerS: maybe,
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

import { z } from 'zod'
import type { BoilOffInput } from '../calc/boil-off'
import type { PackInput } from '../calc/contents-pack'
import { CYLINDER_GAS_CODES, GAS_CODES, type GasCode } from '../calc/gas-data'
import type { GaugeTemperatureInput } from '../calc/gauge-temperature'
import type { LiquidContentsInput } from '../calc/liquid-contents'
import type { NominalCheckInput } from '../calc/nominal-check'
import type { PropaneWinterInput } from '../calc/propane-winter'
import { PERMANENT_GAS_CODES } from '../calc/real-gas'
import { LIQUID_GAS_CODES } from '../calc/tables/liquid-at-saturation'
import { VOLUME_BASES, type VolumeBase } from '../calc/tables/specific-volume'
import { gaugeReadingSchema, gaugeSchema, sizeSchema } from './calc-input'

// What the calculations on contents are handed as JSON. The form only: numbers are calc's to refuse.

const number = z.number()
const maybe = number.exactOptional()

export const gaugeTemperatureInputSchema: z.ZodType<GaugeTemperatureInput> = z.strictObject({
  gas: z.enum([...PERMANENT_GAS_CODES, 'acetylene']),
  gaugePressureKpa: number,
  temperatureK: number,
  toTemperatureK: number,
  gauge: gaugeSchema.exactOptional(),
  temperatureStandardUncertaintyK: maybe,
})

export const packInputSchema: z.ZodType<PackInput> = z.strictObject({
  cylinders: number,
  size: sizeSchema,
  reading: gaugeReadingSchema,
})

export const liquidContentsInputSchema: z.ZodType<LiquidContentsInput> = z.strictObject({
  gas: z.enum(LIQUID_GAS_CODES),
  reading: z.discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('weight'),
      grossKg: number,
      tareKg: number,
      grossStandardUncertaintyKg: maybe,
      tareStandardUncertaintyKg: maybe,
    }),
    z.strictObject({
      kind: z.literal('level'),
      levelShare: number,
      levelTolerance: maybe,
      containerVolumeL: number,
      gaugePressureKpa: number,
    }),
  ]),
})

const amount = z.strictObject({ gasKg: number, standardUncertaintyKg: number })

export const boilOffInputSchema: z.ZodType<BoilOffInput> = z.strictObject({
  capacityKg: number,
  lossSharePerDay: number,
  lossShareStandardUncertainty: maybe,
  elapsedS: number,
  before: amount,
  drawn: amount.exactOptional(),
  after: amount.exactOptional(),
})

export const volumeAtBaseInputSchema: z.ZodType<{
  gas: GasCode
  base: VolumeBase
  gasKg: number
  standardUncertaintyKg?: number
}> = z.strictObject({
  gas: z.enum(GAS_CODES),
  base: z.enum(VOLUME_BASES),
  gasKg: number,
  standardUncertaintyKg: maybe,
})

export const massFromBaseInputSchema: z.ZodType<{
  gas: GasCode
  base: VolumeBase
  volumeM3: number
}> = z.strictObject({
  gas: z.enum(GAS_CODES),
  base: z.enum(VOLUME_BASES),
  volumeM3: number,
})

export const nominalCheckInputSchema: z.ZodType<NominalCheckInput> = z.strictObject({
  gas: z.enum(CYLINDER_GAS_CODES),
  nominalM3: number,
  emptyKg: number,
  fullKg: number,
  weighingStandardUncertaintyKg: maybe,
})

export const propaneCapacityInputSchema: z.ZodType<{
  waterCapacityKg: number
  specificGravity?: number
}> = z.strictObject({ waterCapacityKg: number, specificGravity: maybe })

export const propaneLiquidInputSchema = z.strictObject({
  containerVolumeM3: number,
  specificGravity: number,
  volumeFactor: number,
})

export const propanePressureInputSchema: z.ZodType<{
  temperatureK: number
  temperatureStandardUncertaintyK?: number
}> = z.strictObject({ temperatureK: number, temperatureStandardUncertaintyK: maybe })

export const propaneWinterInputSchema: z.ZodType<PropaneWinterInput> = z.strictObject({
  remainingKg: number,
  airTemperatureK: number,
  capacityKg: number,
  outsideDiameterM: maybe,
  overallLengthM: maybe,
  drawM3PerS: number,
  cylinders: maybe,
  neededGaugePressureKpa: maybe,
})

const gasState = z.strictObject({ pressureAbsKpa: number, temperatureK: number })

export const idealPressureInputSchema = z.strictObject({
  amountMol: number,
  temperatureK: number,
  volumeL: number,
})

export const idealVolumeInputSchema = z.strictObject({
  volume: number,
  from: gasState,
  to: gasState,
})

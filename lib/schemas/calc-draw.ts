import { z } from 'zod'
import type { FlameHeatInput } from '../calc/flame'
import { FLAME_WORK_CODES, type FlameWorkInput } from '../calc/flame-work'
import { CYLINDER_GAS_CODES, FUEL_CODES, type FuelCode, GAS_CODES } from '../calc/gas-data'
import type { HeatingInput } from '../calc/heating'
import type { HoseInput } from '../calc/hose'
import type { LeakTestInput } from '../calc/leak-test'
import type { ManifoldInput } from '../calc/manifold'
import type { RunTimeInput } from '../calc/run-time'
import { ARC_PROCESS_CODES, type ShieldingInput } from '../calc/shielding-gas'
import { HOSE_BORE_CODES, HOSE_GRADE_CODES } from '../calc/tables/hoses'
import type { WorkCostInput } from '../calc/work-cost'
import { drawBasis, drawOption, readingSchema, sizeSchema } from './calc-input'

// What the calculations on draw, hose, leak, heat and cost are handed as JSON. The form only.

const number = z.number()
const maybe = number.exactOptional()
const pattern = z.enum(['intermittent', 'continuous'])
const acetyleneRule = {
  option: drawOption.exactOptional(),
  basis: drawBasis.exactOptional(),
  pattern: pattern.exactOptional(),
}

export const manifoldInputSchema: z.ZodType<ManifoldInput> = z.strictObject({
  gas: z.enum(GAS_CODES),
  nominalKg: number,
  remainingKg: maybe,
  reserveKg: maybe,
  remainingStandardUncertaintyKg: maybe,
  drawM3PerS: number,
  drawStandardUncertaintyM3PerS: maybe,
  burnS: maybe,
  ...acetyleneRule,
  airTemperatureK: maybe,
  outsideDiameterM: maybe,
  overallLengthM: maybe,
  place: z.enum(['indoors', 'outdoors']),
  lowPressure: z.boolean().exactOptional(),
})

export const runTimeInputSchema: z.ZodType<RunTimeInput> = z.strictObject({
  size: sizeSchema,
  reading: readingSchema,
  cylinders: maybe,
  changeAt: z
    .union([z.strictObject({ gaugePressureKpa: number }), z.strictObject({ gasKg: number })])
    .exactOptional(),
  drawM3PerS: number,
  drawStandardUncertaintyM3PerS: maybe,
  operatingFactor: maybe,
})

const fuel = z.enum(FUEL_CODES)

export const combustionInputSchema: z.ZodType<{
  fuel: FuelCode
  fuelM3: number
  oxygenCylinderM3?: number
}> = z.strictObject({ fuel, fuelM3: number, oxygenCylinderM3: maybe })

export const flameHeatInputSchema: z.ZodType<FlameHeatInput> = z.strictObject({
  fuel,
  fuelM3PerS: number,
  heatJPerM3: maybe,
  transferShare: maybe,
  spot: z.strictObject({ diameterM: number, share: number }).exactOptional(),
})

export const heatingInputSchema: z.ZodType<HeatingInput> = z.strictObject({
  fuel,
  burnS: number,
  need: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('steel'), massKg: number, riseK: number }),
    z.strictObject({ kind: z.literal('heat'), intoWorkW: number }),
    z.strictObject({ kind: z.literal('flow'), fuelM3PerS: number }),
  ]),
  oxygenRatio: maybe,
  transferShare: maybe,
  supply: z
    .strictObject({ cylinders: number, capacityKg: number, remainingKg: maybe, ...acetyleneRule })
    .exactOptional(),
})

export const flameWorkInputSchema: z.ZodType<FlameWorkInput> = z.strictObject({
  work: z.enum(FLAME_WORK_CODES),
  fuel,
  fuelM3PerS: number,
  oxygenM3PerS: maybe,
  flowRelativeUncertainty: maybe,
  time: z.union([
    z.strictObject({ burnS: number }),
    z.strictObject({ lengthM: number, speedMPerS: number, passes: maybe }),
  ]),
  filler: z
    .discriminatedUnion('kind', [
      z.strictObject({
        kind: z.literal('rod'),
        rodDiameterM: number,
        rodLengthM: number,
        densityKgPerM3: number,
      }),
      z.strictObject({
        kind: z.literal('joint'),
        volumeM3: number,
        densityKgPerM3: number,
        lossShare: maybe,
      }),
    ])
    .exactOptional(),
  grooveAreaM2: maybe,
})

export const shieldingInputSchema: z.ZodType<ShieldingInput> = z.strictObject({
  process: z.enum(ARC_PROCESS_CODES),
  flowM3PerS: number,
  flowRelativeUncertainty: maybe,
  weld: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('fillet'), legM: number }),
    z.strictObject({ kind: z.literal('groove'), areaM2: number }),
  ]),
  lengthM: number,
  overweldShare: maybe,
  deposit: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('wire'), diameterM: number, feedMPerS: number }),
    z.strictObject({ kind: z.literal('rate'), kgPerS: number }),
  ]),
  depositionEfficiency: maybe,
  starts: maybe,
  preAndPostFlowS: maybe,
  operatingFactor: maybe,
  cylinderM3: maybe,
  densityKgPerM3: maybe,
})

export const hoseInputSchema: z.ZodType<HoseInput> = z.strictObject({
  gas: z.enum(GAS_CODES),
  flowM3PerS: number,
  flowRelativeUncertainty: maybe,
  bore: z.enum(HOSE_BORE_CODES),
  lengthM: number,
  tipGaugePressureKpa: number,
  lossesAtRegulatorKpa: maybe,
  lossesAtTorchKpa: maybe,
  temperatureK: maybe,
})

export const hoseGradeInputSchema = z.strictObject({ fuel, grade: z.enum(HOSE_GRADE_CODES) })

const hold = {
  startGaugePressureKpa: number,
  endGaugePressureKpa: number,
  startTemperatureK: maybe,
  endTemperatureK: maybe,
  elapsedS: number,
  resolutionKpa: number,
}

export const leakTestInputSchema: z.ZodType<LeakTestInput> = z.strictObject({
  gas: z.enum(CYLINDER_GAS_CODES),
  hoses: z.array(z.strictObject({ bore: z.enum(HOSE_BORE_CODES), lengthM: number })).max(100),
  otherVolumeL: maybe,
  ...hold,
  priceMinorPerKg: maybe,
})

export const leakTrendInputSchema = z.strictObject({
  points: z.array(z.strictObject({ day: number, fallKpa: number, uKpa: number })).max(1000),
})

export const regulatorCreepInputSchema: z.ZodType<
  Omit<LeakTestInput, 'gas' | 'hoses' | 'otherVolumeL' | 'priceMinorPerKg'>
> = z.strictObject(hold)

const priced = {
  code: z.string(),
  quantity: number,
  standardUncertainty: maybe,
  unitPriceMinor: number,
}

export const workCostInputSchema: z.ZodType<WorkCostInput> = z.strictObject({
  currency: z.string().length(3),
  gas: z.array(z.strictObject(priced)).max(100),
  rent: z
    .strictObject({ cylinders: number, days: number, perCylinderDayMinor: number })
    .exactOptional(),
  labour: z
    .strictObject({
      hours: number,
      standardUncertaintyHours: maybe,
      perHourMinor: number,
      people: maybe,
    })
    .exactOptional(),
  consumables: z.array(z.strictObject(priced)).max(100).exactOptional(),
  cuts: maybe,
  lengthM: maybe,
})

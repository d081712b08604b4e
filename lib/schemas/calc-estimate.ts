import { z } from 'zod'
import type { CutInput, EstimateInput } from '../calc/estimate-types'
import { FUEL_CODES } from '../calc/gas-data'
import { SECTION_FAMILIES } from '../calc/sections/named-section'
import type { TipChart } from '../calc/tables/tip-chart'
import { drawBasis, drawOption, supplySizeSchema } from './calc-input'

// What an estimate is handed as JSON: the form only, as in the other inputs of calculations.

const number = z.number()
const maybe = number.exactOptional()
const range = z.tuple([number, number]).readonly()

const shapeSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('plate'), thicknessM: number, lengthM: number }),
  z.strictObject({ kind: z.literal('flatBar'), thicknessM: number, widthM: number }),
  z.strictObject({ kind: z.literal('squareBar'), sideM: number }),
  z.strictObject({ kind: z.literal('roundBar'), diameterM: number }),
  z.strictObject({ kind: z.literal('pipe'), outsideDiameterM: number, wallM: number }),
  z.strictObject({ kind: z.enum(SECTION_FAMILIES), designation: z.string() }),
  z.strictObject({ kind: z.enum(['rivetHead', 'boltHead']), shankDiameterM: number }),
  z.strictObject({ kind: z.enum(['gouge', 'washOff']), areaM2: number, depthM: number }),
])

const part = z.enum(['flange', 'web']).exactOptional()
const taskSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('hole'), diameterM: number, part }),
  z.strictObject({ kind: z.literal('notch'), lengthM: number, depthM: number, part }),
  z.strictObject({ kind: z.literal('cope'), lengthM: number, depthM: number }),
  z.strictObject({ kind: z.literal('bevel'), angleDeg: number, landM: maybe }),
])
const ownSchema = z.strictObject({
  cuttingOxygenM3PerS: number,
  fuelM3PerS: number,
  speedMPerS: maybe,
  areaM2PerS: maybe,
})

const cutSchema: z.ZodType<CutInput> = z.strictObject({
  id: z.string(),
  material: z.string(),
  coating: z.string().exactOptional(),
  shape: shapeSchema,
  task: taskSchema.exactOptional(),
  count: number,
  doneCount: maybe,
  bevelDeg: maybe,
  miterDeg: maybe,
  miterOn: part,
  stackPlates: maybe,
  position: z.enum(['flat', 'horizontal', 'vertical', 'overhead']).exactOptional(),
  conditions: z.array(z.enum(['dirty', 'painted', 'awkward', 'cold', 'wind'])).exactOptional(),
  process: z.enum(['hand', 'machine']).exactOptional(),
  pierced: z.boolean().exactOptional(),
  restarts: maybe,
  own: ownSchema.exactOptional(),
  piece: z
    .union([z.strictObject({ lengthM: number }), z.strictObject({ areaM2: number })])
    .exactOptional(),
})

const byFuel = z.strictObject(
  Object.fromEntries(FUEL_CODES.map((fuel) => [fuel, range.exactOptional()])),
)
export const tipChartSchema: z.ZodType<TipChart> = z.strictObject({
  id: z.string(),
  title: z.string(),
  source: z.string(),
  provenance: z.enum(['read', 'from memory', 'derived', 'common practice', 'entered']),
  materials: z.array(z.string()),
  rows: z.array(
    z.strictObject({
      thicknessIn: number,
      tip: z.string().exactOptional(),
      orificeIn: range.nullable(),
      speedInPerMin: range,
      cuttingOxygenFt3PerH: range,
      fuelFt3PerH: byFuel,
      oxygenPsig: range.exactOptional(),
      fuelPsig: byFuel.exactOptional(),
    }),
  ),
})

const settings = {
  fuel: z.string(),
  tipChart: tipChartSchema.exactOptional(),
  oxygenPurityPct: maybe,
  ownFuelFlowM3PerS: range.exactOptional(),
  judgements: z.record(z.string(), number).exactOptional(),
  travelSPerCut: maybe,
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
}

export const estimateInputSchema: z.ZodType<EstimateInput> = z.strictObject({
  ...settings,
  cuts: z.array(cutSchema).max(20_000),
})

export const tipSettingsInputSchema = z.strictObject({
  tipChart: tipChartSchema.exactOptional(),
  fuel: z.enum(FUEL_CODES),
  pathM: number,
  process: z.enum(['hand', 'machine']),
})

export const suitabilityInputSchema = z.strictObject({
  material: z.string(),
  coating: z.string().exactOptional(),
})

export const sectionInputSchema = z.strictObject({
  family: z.enum(SECTION_FAMILIES),
  typed: z.string(),
})

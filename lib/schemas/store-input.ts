import { z } from 'zod'
import type { ControlArea, FuelIndoors, LpgOutdoors, Manifold } from '../rules/amounts'
import type { StandingCylinder } from '../rules/handling'
import type { Rack } from '../rules/rack'
import { CYLINDER_SPECS, type CylinderMarks } from '../rules/requalification'
import type { ShadeInput } from '../rules/shade'
import type { Cart, CylinderRest, Separation, StorePlace } from '../rules/storage'
import type {
  AdrDuties,
  AdrItem,
  Emptied,
  Ride,
  TradeConditions,
  TradeLoad,
} from '../rules/transport'

// What the checks of stores, loads, tests and lenses are handed as JSON. Amounts are not negative; the rest of
// what makes sense is theirs to say, null meaning that nobody measured.

const amount = z.number().nonnegative()
const measured = amount.nullable()
const flag = z.boolean()
const month = z.string().regex(/^\d{4}-(0[1-9]|1[0-2])$/, 'A month as YYYY-MM')
const GAS_KINDS = ['flammable', 'oxidizing', 'inert'] as const
const HELD_GASES = ['oxygen', 'acetylene', 'lpg', 'other_fuel', 'inert'] as const
const CYLINDER_STATES = ['full', 'part', 'empty', 'purged'] as const
const OCCUPANCIES = ['assembly_school_care_home_office', 'other'] as const

const barrier = z.strictObject({
  isNoncombustible: flag,
  ratingMin: amount,
  heightFt: amount,
  aboveFt: measured,
  besideFt: measured,
})

export const separationSchema: z.ZodType<Separation> = z.strictObject({
  distanceFt: measured,
  barrier: barrier.nullable(),
  isInGasCabinets: flag.exactOptional(),
})

export const restSchema: z.ZodType<CylinderRest> = z.strictObject({
  regulatorsFitted: flag,
  expectedUseWithinHours: measured,
  isSecuredToVehicleOrStructure: flag.exactOptional(),
})

export const cartSchema: z.ZodType<Cart> = z.strictObject({
  oxygenCylinders: z.int().nonnegative(),
  fuelCylinders: z.int().nonnegative(),
  isConnectedToRegulators: flag,
  isSecured: flag,
  isKeptFromTheWork: flag,
  hasKeysOnStems: flag,
  areValvesClosedWhenIdle: flag,
})

export const placeSchema: z.ZodType<StorePlace> = z.strictObject({
  isIndoors: flag,
  isVentilated: flag,
  isDry: flag,
  isLocker: flag,
  isAwayFromHeatAndExits: flag,
  isSafeFromTampering: flag,
  highlyCombustibleFt: measured,
  vegetationFt: measured,
  noSmokingSignsWithinFt: measured,
  dropPartOfHeight: amount,
  hottestF: z.number().nullable(),
  holdsFuelGas: flag,
})

export const controlAreaSchema: z.ZodType<{ area: ControlArea; quantityFt3: number }> =
  z.strictObject({
    area: z.strictObject({
      gas: z.enum(GAS_KINDS),
      isOutdoors: flag.exactOptional(),
      isSprinklered: flag,
      isInGasCabinets: flag,
    }),
    quantityFt3: amount,
  })

export const rackSchema: z.ZodType<Rack> = z.strictObject({
  isIndoors: flag,
  isSprinklered: flag,
  isInGasCabinets: flag,
  occupancy: z.enum(OCCUPANCIES),
  cylinders: z.array(
    z.strictObject({
      kind: z.enum(GAS_KINDS),
      isLpg: flag,
      nominalFt3: amount,
      lpgLb: amount,
      state: z.enum(CYLINDER_STATES),
      isConnected: flag,
      count: z.int().nonnegative(),
    }),
  ),
  separation: separationSchema.nullable(),
})

export const fuelIndoorsSchema: z.ZodType<FuelIndoors> = z.strictObject({
  fuelGasStoredFt3: amount,
  lpgLb: amount,
})

export const lpgOutdoorsSchema: z.ZodType<LpgOutdoors> = z.strictObject({
  lpgLb: amount,
  buildingFt: measured,
  doorFt: measured,
  hasSingleExit: flag,
  combustiblesFt: measured,
  dispensersFt: measured,
  extinguisherRatingB: amount,
})

export const roomManifoldSchema: z.ZodType<Manifold> = z.strictObject({
  gas: z.enum(['fuel', 'oxygen']),
  connectedFt3: amount,
  lpgLb: amount.exactOptional(),
  servicePsig: measured.exactOptional(),
  nextManifoldFt: measured.exactOptional(),
  fuelOrCombustiblesFt: measured.exactOptional(),
  barrier: barrier.nullable().exactOptional(),
})

export const standingSchema: z.ZodType<StandingCylinder> = z.strictObject({
  gas: z.enum(HELD_GASES),
  use: z.enum(['stored', 'in_use', 'moved', 'hoisted_or_carried']),
  tiltDeg: amount,
  isSecured: flag,
  takesCap: flag,
  isCapOn: flag,
  isValveClosed: flag,
  isEmpty: flag,
  waterCapacityLb: amount,
})

export const tradeLoadSchema: z.ZodType<TradeLoad> = z.strictObject({
  carrier: z.enum(['private', 'for_hire']),
  purpose: z.enum([
    'supports_principal_business',
    'protects_people',
    'runs_the_vehicle',
    'delivery_of_goods',
  ]),
  cylindersGrossLb: z.array(amount),
  otherGrossLb: amount,
})

export const tradeConditionsSchema: z.ZodType<TradeConditions> = z.strictObject({
  areMarkedAndInDate: flag,
  areSecured: flag,
  areValvesClosed: flag,
  isDriverTold: flag,
})

export const placardsSchema: z.ZodType<{ table2GrossLb: number[] }> = z.strictObject({
  table2GrossLb: z.array(amount),
})

export const rideSchema: z.ZodType<Ride> = z.strictObject({
  gas: z.enum(HELD_GASES),
  orientation: z.enum(['upright', 'horizontal']),
  isSecured: flag,
  isValveProtected: flag,
  doesReliefMeetVapourLying: flag.exactOptional(),
})

export const emptiedSchema: z.ZodType<Emptied> = z.strictObject({
  isPurged: flag,
  isFlammable: flag,
  residualKpaAbs: measured,
})

export const adrSchema: z.ZodType<{ items: AdrItem[]; duties: AdrDuties }> = z.strictObject({
  items: z.array(
    z.strictObject({ category: z.union([z.literal(2), z.literal(3)]), quantity: amount }),
  ),
  duties: z.strictObject({
    isDriverTrainedAndRecorded: flag,
    extinguisherKg: amount,
    isStowed: flag,
    isVentilatedOrMarked: flag,
  }),
})

export const marksSchema: z.ZodType<CylinderMarks> = z.strictObject({
  spec: z.enum(CYLINDER_SPECS),
  manufactured: month.nullable(),
  last: month.nullable(),
  isStarred: flag,
  gas: z.string().nullable(),
  waterCapacityLb: measured.exactOptional(),
  method: z.enum(['volumetric', 'proof', 'visual']).nullable().exactOptional(),
  service: z.enum(['noncorrosive_coated', 'other']).exactOptional(),
  isFireExtinguisher: flag.exactOptional(),
  isFillerInspected: flag.exactOptional(),
  serviceLifeEnds: month.nullable().exactOptional(),
  condition: z.enum([
    'sound',
    'heat_damage',
    'dent',
    'corrosion',
    'crack',
    'leak',
    'accident',
    'ground_down',
  ]),
  filled: month.nullable(),
  today: z.iso.date(),
})

export const shadeSchema: z.ZodType<ShadeInput> = z.strictObject({
  process: z.enum([
    'oxyfuel_cutting',
    'oxyfuel_welding',
    'torch_brazing',
    'torch_soldering',
    'carbon_arc',
    'smaw',
    'mig',
    'tig',
    'plasma_cutting',
  ]),
  thicknessIn: measured.exactOptional(),
  amps: measured.exactOptional(),
})

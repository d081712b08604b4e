import { z } from 'zod'
import { TRIP_BODIES, TRIP_CHECKS } from '@/lib/rules/trip'
import { clientKey, idField, type Loosely, optionalId, optionalText, requiredText } from './fields'
import { emptyIsAbsent, kilograms, massUnit, ticked, typedNumber } from './measure'

export const VEHICLE_BODIES = ['open_bed', 'ventilated_box', 'closed_box'] as const
export const TRIP_PURPOSES = ['supports_principal_business', 'delivery_of_goods'] as const

/** What its own papers allow it to carry, typed in pounds; empty is not said. */
const payload = emptyIsAbsent(
  typedNumber.pipe(z.number().positive('NOT_POSITIVE').max(60_000, 'TOO_LARGE')),
).transform((pounds) => (pounds === undefined ? null : kilograms(pounds, 'lb')))

const vehicleBoxes = {
  key: clientKey,
  name: requiredText(60),
  plate: requiredText(20),
  body: z.enum(VEHICLE_BODIES),
  hasTrailer: ticked,
  payload,
  trailerPayload: payload,
}
type Boxes = Readonly<{ payload: number | null; trailerPayload: number | null }>
const inKilograms = <T extends Boxes>({ payload, trailerPayload, ...rest }: T) => ({
  ...rest,
  payloadKg: payload,
  trailerPayloadKg: trailerPayload,
})

export const addVehicleSchema = z
  .object({ ...vehicleBoxes, siteId: idField })
  .transform(inKilograms)
export type AddVehicleInput = Loosely<
  z.output<typeof addVehicleSchema>,
  'payloadKg' | 'trailerPayloadKg'
>

export const changeVehicleSchema = z
  .object({ ...vehicleBoxes, vehicleId: idField })
  .transform(inKilograms)
export type ChangeVehicleInput = z.output<typeof changeVehicleSchema>

export const removeVehicleSchema = z.object({ key: clientKey, vehicleId: idField })
export type RemoveVehicleInput = z.output<typeof removeVehicleSchema>

export const startTripSchema = z.object({
  key: clientKey,
  siteId: idField,
  toSiteId: idField,
  vehicleId: idField,
  driverId: idField,
  purpose: z.enum(TRIP_PURPOSES),
})
export type StartTripInput = z.output<typeof startTripSchema>

export const loadCylinderSchema = z
  .object({
    key: clientKey,
    tripId: idField,
    serial: z
      .string()
      .trim()
      .toUpperCase()
      .regex(/^[A-Z0-9.-]{1,40}$/, 'NOT_A_SERIAL'),
    body: z.enum(TRIP_BODIES),
    /** On the scale; without it tare and contents are added up. */
    weight: emptyIsAbsent(typedNumber.pipe(z.number().positive('NOT_POSITIVE'))),
    weightUnit: massUnit.default('lb'),
  })
  .transform(({ weight, weightUnit, ...one }) => ({
    ...one,
    weighedKg: weight === undefined ? null : kilograms(weight, weightUnit),
  }))
export type LoadCylinderInput = z.output<typeof loadCylinderSchema>

export const leaveSchema = z
  .object({
    key: clientKey,
    tripId: idField,
    checks: z.array(z.enum(TRIP_CHECKS)),
    other: emptyIsAbsent(typedNumber.pipe(z.number().min(0, 'NEGATIVE'))),
    otherUnit: massUnit.default('lb'),
    shippingPaperNo: optionalText(40),
    placardsShown: ticked,
  })
  .transform(({ other, otherUnit, ...one }) => ({
    ...one,
    otherGrossKg: kilograms(other ?? 0, otherUnit),
  }))
export type LeaveInput = z.output<typeof leaveSchema>

export const unloadSchema = z.object({
  key: clientKey,
  tripId: idField,
  siteId: idField,
  areaId: optionalId,
  storageConfirmed: ticked,
  items: z.array(idField).min(1, 'CHOOSE_ONE'),
})
export type UnloadInput = Loosely<z.output<typeof unloadSchema>, 'storageConfirmed'>

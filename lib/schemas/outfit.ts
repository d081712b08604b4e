import { z } from 'zod'
import { HOSE_GRADE_CODES } from '@/lib/calc/tables/hoses'
import { convert } from '@/lib/calc/units'
import { EXTINGUISHER_CHECKS, TIP_FINDINGS } from '@/lib/permit/gear-checks'
import { clientKey, idField, optionalId, optionalText, requiredText } from './fields'
import { emptyIsAbsent, gaugeKpa, pressureUnit, typedNumber, wholeNumber } from './measure'

export const OUTFIT_FUELS = ['acetylene', 'propane', 'natural_gas', 'propylene', 'mps'] as const

/** Cylinders that a side can carry at once: its manifold's places. */
export const MOST_PLACES = 24

export const saveOutfitSchema = z.object({
  key: clientKey,
  siteId: idField,
  /** None: a new one. */
  outfitId: optionalId,
  number: z
    .string()
    .trim()
    .regex(/^[A-Za-z0-9.-]{1,12}$/, 'LETTERS_AND_DIGITS'),
  fuel: z.enum(OUTFIT_FUELS),
  crewId: optionalId,
  holderId: optionalId,
  /** Empty: owned. */
  rentedFrom: optionalText(80),
  oxygenPlaces: wholeNumber.pipe(z.number().min(1).max(MOST_PLACES)),
  fuelPlaces: wholeNumber.pipe(z.number().min(1).max(MOST_PLACES)),
})
export type SaveOutfitInput = z.output<typeof saveOutfitSchema>

export const PART_KINDS = [
  'torch',
  'head',
  'tip',
  'hose_oxygen',
  'hose_fuel',
  'regulator_oxygen',
  'regulator_fuel',
  'arrestor_oxygen',
  'arrestor_fuel',
] as const

const positive = emptyIsAbsent(typedNumber.pipe(z.number().positive('NOT_POSITIVE')))

export const addPartSchema = z
  .object({
    key: clientKey,
    outfitId: idField,
    kind: z.enum(PART_KINDS),
    name: requiredText(60),
    serial: optionalText(40),
    hoseGrade: emptyIsAbsent(z.enum(HOSE_GRADE_CODES)),
    /** Feet, inches and thousandths, as such parts are sold. */
    lengthFt: positive,
    boreIn: positive,
    orificeIn: positive,
  })
  .refine((part) => part.kind !== 'tip' || part.orificeIn !== undefined, {
    path: ['orificeIn'],
    message: 'ENTER_A_NUMBER',
  })
  .refine((part) => !part.kind.startsWith('hose') || part.lengthFt !== undefined, {
    path: ['lengthFt'],
    message: 'ENTER_A_NUMBER',
  })
  .refine((part) => !part.kind.startsWith('hose') || part.hoseGrade !== undefined, {
    path: ['hoseGrade'],
    message: 'CHOOSE_ONE',
  })
export type AddPartInput = z.output<typeof addPartSchema>

export const removePartSchema = z.object({ key: clientKey, partId: idField })
export type RemovePartInput = z.output<typeof removePartSchema>

export const RECORDED_CHECKS = [
  'shift_inspection',
  'inspection',
  'arrestor_oxygen',
  'arrestor_fuel',
  'soap_check',
] as const

export const recordCheckSchema = z
  .object({
    key: clientKey,
    outfitId: idField,
    check: z.enum(RECORDED_CHECKS),
    isGood: z.enum(['yes', 'no']),
    reason: optionalText(200),
  })
  .refine((one) => one.isGood === 'yes' || one.reason !== null, {
    path: ['reason'],
    message: 'SAY_IT',
  })
export type RecordCheckInput = z.output<typeof recordCheckSchema>

export const holdTestSchema = z
  .object({
    key: clientKey,
    outfitId: idField,
    test: z.enum(['leak', 'creep']),
    side: z.enum(['oxygen', 'fuel']),
    start: typedNumber,
    startUnit: pressureUnit,
    end: typedNumber,
    endUnit: pressureUnit,
    resolution: typedNumber,
    resolutionUnit: pressureUnit,
    minutes: typedNumber,
  })
  .transform(({ start, startUnit, end, endUnit, resolution, resolutionUnit, minutes, ...one }) => ({
    ...one,
    startGaugePressureKpa: gaugeKpa(start, startUnit),
    endGaugePressureKpa: gaugeKpa(end, endUnit),
    resolutionKpa: gaugeKpa(resolution, resolutionUnit),
    elapsedS: minutes * 60,
  }))
export type HoldTestInput = z.output<typeof holdTestSchema>

export const serviceSchema = z
  .object({
    key: clientKey,
    outfitId: idField,
    act: z.enum(['out_of_service', 'flashback', 'back_in_service']),
    reason: optionalText(200),
  })
  .refine((one) => one.act === 'back_in_service' || one.reason !== null, {
    path: ['reason'],
    message: 'SAY_IT',
  })
export type ServiceInput = z.output<typeof serviceSchema>

export const EXTINGUISHER_KINDS = [
  'water',
  'dry_chemical',
  'co2',
  'foam',
  'class_d',
  'wet_chemical',
] as const

export const addExtinguisherSchema = z.object({
  key: clientKey,
  siteId: idField,
  number: requiredText(20),
  kind: z.enum(EXTINGUISHER_KINDS),
  rating: requiredText(30),
  place: requiredText(120),
})
export type AddExtinguisherInput = z.output<typeof addExtinguisherSchema>

export const checkExtinguisherSchema = z
  .object({
    key: clientKey,
    extinguisherId: idField,
    kind: z.enum(EXTINGUISHER_CHECKS),
    isGood: z.enum(['yes', 'no']),
    note: optionalText(200),
  })
  .refine((one) => one.isGood === 'yes' || one.note !== null, { path: ['note'], message: 'SAY_IT' })
export type CheckExtinguisherInput = z.output<typeof checkExtinguisherSchema>

export const removeExtinguisherSchema = z.object({ key: clientKey, extinguisherId: idField })
export type RemoveExtinguisherInput = z.output<typeof removeExtinguisherSchema>

const MOST_ORIFICE_IN = 0.75
export const tipCheckSchema = z
  .object({
    key: clientKey,
    partId: idField,
    finding: z.enum(TIP_FINDINGS, 'CHOOSE_ONE'),
    /** By a drill gauge, inches; empty where nobody measured. */
    orificeIn: emptyIsAbsent(
      typedNumber.pipe(z.number().positive('NOT_POSITIVE').max(MOST_ORIFICE_IN, 'TOO_LARGE')),
    ),
    note: optionalText(200),
  })
  .transform(({ orificeIn, ...typed }) => ({
    ...typed,
    orificeM: orificeIn === undefined ? null : convert({ value: orificeIn, from: 'in', to: 'm' }),
  }))
export type TipCheckInput = z.output<typeof tipCheckSchema>

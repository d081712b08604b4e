import { z } from 'zod'
import { serial } from './cylinder'
import { clientKey, idField, optionalId } from './fields'
import { ticked } from './measure'

export const startCountSchema = z.object({ key: clientKey, siteId: idField })
export type StartCountInput = z.output<typeof startCountSchema>

export const sightingSchema = z.object({
  key: clientKey,
  countId: idField,
  areaId: optionalId,
  serial,
})
export type SightingInput = z.output<typeof sightingSchema>

/** Serials that a second look confirmed; the others stay as they were. */
const confirmed = z.preprocess(
  (value) => (value === undefined ? [] : Array.isArray(value) ? value : [value]),
  z.array(serial).max(5_000),
)
export const endCountSchema = z.object({
  key: clientKey,
  countId: idField,
  confirmed,
  lookedTwice: ticked,
})
export type EndCountInput = z.output<typeof endCountSchema>

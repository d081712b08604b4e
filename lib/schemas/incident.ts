import { z } from 'zod'
import { INCIDENT_KINDS } from '../permit/incident'
import { clientKey, deviceAtField, idField, optionalId, optionalText, requiredText } from './fields'

export const recordIncidentSchema = z.object({
  key: clientKey,
  deviceAt: deviceAtField,
  areaId: idField,
  permitId: optionalId,
  outfitId: optionalId,
  kind: z.enum(INCIDENT_KINDS, 'CHOOSE_ONE'),
  what: requiredText(300),
  done: optionalText(300),
  /** How many minutes ago; recorded at once, so seldom many. */
  agoMin: z.coerce.number().int('WHOLE_NUMBER').min(0, 'OUT_OF_RANGE').max(10_080, 'OUT_OF_RANGE'),
})
export type RecordIncidentInput = z.output<typeof recordIncidentSchema>

export const incidentStepSchema = z.object({
  key: clientKey,
  incidentId: idField,
  words: requiredText(400),
})
export type IncidentStepInput = z.output<typeof incidentStepSchema>

import { z } from 'zod'
import { clientKey, idField, requiredText } from './fields'

export const addCrewSchema = z.object({ key: clientKey, siteId: idField, name: requiredText(60) })
export type AddCrewInput = z.output<typeof addCrewSchema>

export const changeCrewSchema = z.object({
  key: clientKey,
  crewId: idField,
  siteId: idField,
  name: requiredText(60),
})
export type ChangeCrewInput = z.output<typeof changeCrewSchema>

export const addCrewMemberSchema = z.object({ key: clientKey, crewId: idField, personId: idField })
export type AddCrewMemberInput = z.output<typeof addCrewMemberSchema>

export const endCrewMemberSchema = z.object({ key: clientKey, memberId: idField })
export type EndCrewMemberInput = z.output<typeof endCrewMemberSchema>

'use server'

import type { ActionResult } from '@/lib/action-result'
import { addCrew, addCrewMember, changeCrew, endCrewMember } from '@/lib/data/crews'
import {
  addCrewMemberSchema,
  addCrewSchema,
  changeCrewSchema,
  endCrewMemberSchema,
} from '@/lib/schemas/crew'
import { runAction } from '../../permits/run-action'

export type CrewChanged = ActionResult<{ id: string }>

export async function addCrewAction(
  _previous: CrewChanged | null,
  formData: FormData,
): Promise<CrewChanged> {
  return runAction({ schema: addCrewSchema, formData }, addCrew)
}

export async function changeCrewAction(
  _previous: CrewChanged | null,
  formData: FormData,
): Promise<CrewChanged> {
  return runAction({ schema: changeCrewSchema, formData }, changeCrew)
}

export async function addCrewMemberAction(
  _previous: CrewChanged | null,
  formData: FormData,
): Promise<CrewChanged> {
  return runAction({ schema: addCrewMemberSchema, formData }, addCrewMember)
}

export async function endCrewMemberAction(
  _previous: CrewChanged | null,
  formData: FormData,
): Promise<CrewChanged> {
  return runAction({ schema: endCrewMemberSchema, formData }, endCrewMember)
}

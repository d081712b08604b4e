'use server'

import type { ActionResult } from '@/lib/action-result'
import { addQualification, grantRole, revokeGrant, setDisabled } from '@/lib/data/people-acts'
import {
  grantRoleSchema,
  qualificationSchema,
  revokeGrantSchema,
  setDisabledSchema,
} from '@/lib/schemas/people'
import { runAction } from '../permits/run-action'

export type PersonChanged = ActionResult<{ id: string }>

export async function grantRoleAction(
  _previous: PersonChanged | null,
  formData: FormData,
): Promise<PersonChanged> {
  return runAction({ schema: grantRoleSchema, formData }, grantRole)
}

export async function revokeGrantAction(
  _previous: PersonChanged | null,
  formData: FormData,
): Promise<PersonChanged> {
  return runAction({ schema: revokeGrantSchema, formData }, revokeGrant)
}

export async function setDisabledAction(
  _previous: PersonChanged | null,
  formData: FormData,
): Promise<PersonChanged> {
  return runAction({ schema: setDisabledSchema, formData }, setDisabled)
}

export async function addQualificationAction(
  _previous: PersonChanged | null,
  formData: FormData,
): Promise<PersonChanged> {
  return runAction({ schema: qualificationSchema, formData }, addQualification)
}

'use server'

import type { ActionResult } from '@/lib/action-result'
import { addQualification, grantRole, revokeGrant, setDisabled } from '@/lib/data/people-acts'
import { changePerson, giveOncePassword, type OncePassword } from '@/lib/data/people-set-up'
import {
  changePersonSchema,
  grantRoleSchema,
  oncePasswordSchema,
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

export async function changePersonAction(
  _previous: PersonChanged | null,
  formData: FormData,
): Promise<PersonChanged> {
  return runAction({ schema: changePersonSchema, formData }, changePerson)
}

export async function giveOncePasswordAction(
  _previous: ActionResult<OncePassword> | null,
  formData: FormData,
): Promise<ActionResult<OncePassword>> {
  return runAction({ schema: oncePasswordSchema, formData }, giveOncePassword)
}

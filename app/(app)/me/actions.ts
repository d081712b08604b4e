'use server'

import type { ActionResult } from '@/lib/action-result'
import { changePin, savePrefs } from '@/lib/data/me'
import { changePinSchema, prefsSchema } from '@/lib/schemas/people'
import { runAction } from '../permits/run-action'

export type MeChanged = ActionResult<{ id: string }>

export async function savePrefsAction(
  _previous: MeChanged | null,
  formData: FormData,
): Promise<MeChanged> {
  return runAction({ schema: prefsSchema, formData }, savePrefs)
}

export async function changePinAction(
  _previous: MeChanged | null,
  formData: FormData,
): Promise<MeChanged> {
  return runAction({ schema: changePinSchema, formData }, changePin)
}

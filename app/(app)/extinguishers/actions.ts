'use server'

import type { ActionResult } from '@/lib/action-result'
import {
  addExtinguisher,
  checkExtinguisher,
  removeExtinguisher,
} from '@/lib/data/gear/extinguishers'
import {
  addExtinguisherSchema,
  checkExtinguisherSchema,
  removeExtinguisherSchema,
} from '@/lib/schemas/outfit'
import { runAction } from '../permits/run-action'

type Changed = ActionResult<{ id: string }>

export async function addExtinguisherAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: addExtinguisherSchema, formData }, addExtinguisher)
}

export async function checkExtinguisherAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: checkExtinguisherSchema, formData }, checkExtinguisher)
}

export async function removeExtinguisherAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: removeExtinguisherSchema, formData }, removeExtinguisher)
}

'use server'

import type { ActionResult } from '@/lib/action-result'
import { recordCheck, recordHoldTest, recordService } from '@/lib/data/gear/outfit-acts'
import { addPart, removePart, saveOutfit } from '@/lib/data/gear/outfit-set-up'
import { recordTipCheck } from '@/lib/data/gear/tip-wear'
import {
  addPartSchema,
  holdTestSchema,
  recordCheckSchema,
  removePartSchema,
  saveOutfitSchema,
  serviceSchema,
  tipCheckSchema,
} from '@/lib/schemas/outfit'
import { runAction } from '../permits/run-action'

type Changed = ActionResult<{ id: string }>
type Judged = ActionResult<{ id: string; verdict: string }>

export async function saveOutfitAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: saveOutfitSchema, formData }, saveOutfit)
}

export async function addPartAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: addPartSchema, formData }, addPart)
}

export async function removePartAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: removePartSchema, formData }, removePart)
}

export async function recordCheckAction(
  _previous: Judged | null,
  formData: FormData,
): Promise<Judged> {
  return runAction({ schema: recordCheckSchema, formData }, recordCheck)
}

export async function holdTestAction(
  _previous: Judged | null,
  formData: FormData,
): Promise<Judged> {
  return runAction({ schema: holdTestSchema, formData }, recordHoldTest)
}

export async function serviceAction(_previous: Judged | null, formData: FormData): Promise<Judged> {
  return runAction({ schema: serviceSchema, formData }, recordService)
}

export async function tipCheckAction(
  _previous: ActionResult<{ id: string; isOff: boolean }> | null,
  formData: FormData,
): Promise<ActionResult<{ id: string; isOff: boolean }>> {
  return runAction({ schema: tipCheckSchema, formData }, recordTipCheck)
}

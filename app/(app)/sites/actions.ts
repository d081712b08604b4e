'use server'

import type { ActionResult } from '@/lib/action-result'
import { addSite, changeSite, saveArea } from '@/lib/data/places'
import { addSiteSchema, changeSiteSchema, saveAreaSchema } from '@/lib/schemas/place'
import { runAction } from '../permits/run-action'

export type PlaceChanged = ActionResult<{ id: string }>

export async function addSiteAction(
  _previous: PlaceChanged | null,
  formData: FormData,
): Promise<PlaceChanged> {
  return runAction({ schema: addSiteSchema, formData, lists: ['deliveryDays'] }, addSite)
}

export async function changeSiteAction(
  _previous: PlaceChanged | null,
  formData: FormData,
): Promise<PlaceChanged> {
  return runAction({ schema: changeSiteSchema, formData, lists: ['deliveryDays'] }, changeSite)
}

export async function saveAreaAction(
  _previous: PlaceChanged | null,
  formData: FormData,
): Promise<PlaceChanged> {
  return runAction({ schema: saveAreaSchema, formData }, saveArea)
}

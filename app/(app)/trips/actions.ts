'use server'

import type { ActionResult } from '@/lib/action-result'
import {
  addVehicle,
  changeVehicle,
  leave,
  loadCylinder,
  removeVehicle,
  startTrip,
  unload,
} from '@/lib/data/gear/trip-acts'
import {
  addVehicleSchema,
  changeVehicleSchema,
  leaveSchema,
  loadCylinderSchema,
  removeVehicleSchema,
  startTripSchema,
  unloadSchema,
} from '@/lib/schemas/trip'
import { runAction } from '../permits/run-action'

type Changed = ActionResult<{ id: string }>

export async function addVehicleAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: addVehicleSchema, formData }, addVehicle)
}

export async function changeVehicleAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: changeVehicleSchema, formData }, changeVehicle)
}

export async function removeVehicleAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: removeVehicleSchema, formData }, removeVehicle)
}

export async function startTripAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: startTripSchema, formData }, startTrip)
}

export async function loadOnTripAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: loadCylinderSchema, formData }, loadCylinder)
}

export async function leaveAction(_previous: Changed | null, formData: FormData): Promise<Changed> {
  return runAction({ schema: leaveSchema, formData, lists: ['checks'] }, leave)
}

export async function unloadAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: unloadSchema, formData, lists: ['items'] }, unload)
}

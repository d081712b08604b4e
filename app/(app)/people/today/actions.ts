'use server'

import type { ActionResult } from '@/lib/action-result'
import { assignPeople, cancelAssignment, receiveVisitor, visitorLeft } from '@/lib/data/assignments'
import {
  assignSchema,
  cancelAssignmentSchema,
  visitorLeftSchema,
  visitorSchema,
} from '@/lib/schemas/assignment'
import { runAction } from '../../permits/run-action'

type Changed = ActionResult<{ id: string }>

export async function assignPeopleAction(
  _previous: ActionResult<{ added: number }> | null,
  formData: FormData,
): Promise<ActionResult<{ added: number }>> {
  return runAction({ schema: assignSchema, formData }, assignPeople)
}

export async function cancelAssignmentAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: cancelAssignmentSchema, formData }, cancelAssignment)
}

export async function receiveVisitorAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: visitorSchema, formData }, receiveVisitor)
}

export async function visitorLeftAction(
  _previous: Changed | null,
  formData: FormData,
): Promise<Changed> {
  return runAction({ schema: visitorLeftSchema, formData }, visitorLeft)
}

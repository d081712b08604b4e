'use server'

import type { ActionResult } from '@/lib/action-result'
import { closeIncident, followUpIncident, recordIncident } from '@/lib/data/incidents'
import { incidentStepSchema, recordIncidentSchema } from '@/lib/schemas/incident'
import { runAction } from '../permits/run-action'

type Recorded = ActionResult<{ incidentId: string; permitId: string | null }>
type StepKept = ActionResult<{ incidentId: string }>

export async function recordIncidentAction(
  _previous: Recorded | null,
  formData: FormData,
): Promise<Recorded> {
  return runAction({ schema: recordIncidentSchema, formData }, recordIncident)
}

export async function followUpIncidentAction(
  _previous: StepKept | null,
  formData: FormData,
): Promise<StepKept> {
  return runAction({ schema: incidentStepSchema, formData }, followUpIncident)
}

export async function closeIncidentAction(
  _previous: StepKept | null,
  formData: FormData,
): Promise<StepKept> {
  return runAction({ schema: incidentStepSchema, formData }, closeIncident)
}

'use server'

import { redirect } from 'next/navigation'
import type { ActionResult } from '@/lib/action-result'
import { closePermit, signOffWatch } from '@/lib/data/watch/close'
import {
  recordFinalLook,
  recordMonitoring,
  recordStatement,
  recordSurvey,
  restoreImpairment,
} from '@/lib/data/watch/duties'
import { dutySchema, finalSignSchema, restoreSchema, statementSchema } from '@/lib/schemas/watch'
import { runAction } from '../../run-action'

type Result = ActionResult<{ permitId: string }>

export async function recordMonitoringAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: dutySchema, formData }, recordMonitoring)
}

export async function recordFinalLookAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: dutySchema, formData }, recordFinalLook)
}

export async function recordSurveyAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: dutySchema, formData }, recordSurvey)
}

export async function recordStatementAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: statementSchema, formData }, recordStatement)
}

export async function restoreImpairmentAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: restoreSchema, formData }, restoreImpairment)
}

export async function signOffWatchAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: finalSignSchema, formData }, signOffWatch)
}

export async function closePermitAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: finalSignSchema, formData }, closePermit)
  if (result.ok) redirect(`/permits/${result.data.permitId}/record`)
  return result
}

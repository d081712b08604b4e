'use server'

import { redirect } from 'next/navigation'
import type { ActionResult } from '@/lib/action-result'
import { answerClearance, clearPermit } from '@/lib/data/permits/clearance'
import { type GasTested, recordGasTest } from '@/lib/data/permits/gas-tests'
import { clearanceAnswerSchema, gasTestSchema, permitStepSchema } from '@/lib/schemas/permit'
import { runAction } from '../../run-action'

type Result = ActionResult<{ permitId: string }>

export async function answerClearanceAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: clearanceAnswerSchema, formData }, answerClearance)
}

export async function clearPermitAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: permitStepSchema, formData }, clearPermit)
  if (result.ok) redirect(`/permits/${result.data.permitId}/sign`)
  return result
}

export async function recordGasTestAction(
  _previous: ActionResult<GasTested> | null,
  formData: FormData,
): Promise<ActionResult<GasTested>> {
  return runAction({ schema: gasTestSchema, formData }, recordGasTest)
}

'use server'

import { redirect } from 'next/navigation'
import type { ActionResult } from '@/lib/action-result'
import { lookAgain, reopenClearance } from '@/lib/data/permits/clearance'
import { handOver } from '@/lib/data/permits/hand-over'
import {
  endWork,
  holdPermit,
  reopenPermit,
  resumePermit,
  withdrawPermit,
} from '@/lib/data/permits/hold'
import { namePeople } from '@/lib/data/permits/name-people'
import { withdrawStop } from '@/lib/data/permits/stop'
import {
  endWorkSchema,
  handOverSchema,
  holdPermitSchema,
  namePeopleSchema,
  newLookSchema,
  permitStepSchema,
  resumePermitSchema,
  withdrawPermitSchema,
  withdrawStopSchema,
} from '@/lib/schemas/permit'
import { runAction } from '../run-action'

type Result = ActionResult<{ permitId: string }>

export async function holdPermitAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: holdPermitSchema, formData }, holdPermit)
  if (result.ok) redirect(`/permits/${result.data.permitId}`)
  return result
}

export async function endWorkAction(_previous: Result | null, formData: FormData): Promise<Result> {
  const result = await runAction({ schema: endWorkSchema, formData }, endWork)
  if (result.ok) redirect(`/permits/${result.data.permitId}/watch`)
  return result
}

export async function namePeopleAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: namePeopleSchema, formData }, namePeople)
  if (result.ok) redirect(`/permits/${result.data.permitId}`)
  return result
}

export async function lookAgainAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: newLookSchema, formData }, lookAgain)
}

export async function resumePermitAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: resumePermitSchema, formData }, resumePermit)
  if (result.ok) redirect(`/permits/${result.data.permitId}`)
  return result
}

export async function reopenPermitAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: resumePermitSchema, formData }, reopenPermit)
  if (result.ok) redirect(`/permits/${result.data.permitId}`)
  return result
}

export async function handOverAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: handOverSchema, formData }, handOver)
  if (result.ok) redirect(`/permits/${result.data.permitId}`)
  return result
}

export async function withdrawPermitAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: withdrawPermitSchema, formData }, withdrawPermit)
  if (result.ok) redirect(`/permits/${result.data.permitId}`)
  return result
}

export async function reopenClearanceAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: permitStepSchema, formData }, reopenClearance)
  if (result.ok) redirect(`/permits/${result.data.permitId}/clearance`)
  return result
}

export async function withdrawStopAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: withdrawStopSchema, formData }, withdrawStop)
  if (result.ok) redirect(`/permits/${result.data.permitId}`)
  return result
}

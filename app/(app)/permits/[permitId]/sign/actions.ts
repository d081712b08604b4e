'use server'

import { redirect } from 'next/navigation'
import type { ActionResult } from '@/lib/action-result'
import { issuePermit } from '@/lib/data/permits/issue'
import { signPermit } from '@/lib/data/permits/sign'
import { issuePermitSchema, signPermitSchema } from '@/lib/schemas/permit'
import { runAction } from '../../run-action'

type Result = ActionResult<{ permitId: string }>

export async function signPermitAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: signPermitSchema, formData }, signPermit)
}

export async function issuePermitAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction({ schema: issuePermitSchema, formData }, issuePermit)
  if (result.ok) redirect(`/permits/${result.data.permitId}`)
  return result
}

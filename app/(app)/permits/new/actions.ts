'use server'

import { redirect } from 'next/navigation'
import type { ActionResult } from '@/lib/action-result'
import { preparePermit } from '@/lib/data/permits/prepare'
import { preparePermitSchema } from '@/lib/schemas/permit-prepare'
import { runAction } from '../run-action'

type Result = ActionResult<{ id: string }>

export async function preparePermitAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await runAction(
    { schema: preparePermitSchema, formData, lists: ['isolationSteps'] },
    preparePermit,
  )
  if (result.ok) redirect(`/permits/${result.data.id}/clearance`)
  return result
}

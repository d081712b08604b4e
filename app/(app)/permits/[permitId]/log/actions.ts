'use server'

import { redirect } from 'next/navigation'
import type { ActionResult } from '@/lib/action-result'
import { type Logged, logWork } from '@/lib/data/permits/log'
import { logWorkSchema } from '@/lib/schemas/permit'
import { runAction } from '../../run-action'

export async function logWorkAction(
  _previous: ActionResult<Logged> | null,
  formData: FormData,
): Promise<ActionResult<Logged>> {
  const result = await runAction({ schema: logWorkSchema, formData }, logWork)
  if (result.ok) redirect(`/permits/${result.data.permitId}`)
  return result
}

'use server'

import type { ActionResult } from '@/lib/action-result'
import { leaveWatch } from '@/lib/data/watch/duties'
import { leaveWatchSchema } from '@/lib/schemas/watch'
import { runAction } from '../../run-action'

type Result = ActionResult<{ permitId: string }>

export async function leaveWatchAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: leaveWatchSchema, formData }, leaveWatch)
}

'use server'

import type { ActionResult } from '@/lib/action-result'
import { typePaper } from '@/lib/data/permits/paper'
import { paperEntrySchema } from '@/lib/schemas/paper'
import { runAction } from '../../run-action'

type Result = ActionResult<{ permitId: string }>

export async function typePaperAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: paperEntrySchema, formData }, typePaper)
}

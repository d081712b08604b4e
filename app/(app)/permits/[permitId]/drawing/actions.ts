'use server'

import type { ActionResult } from '@/lib/action-result'
import { keepDrawing } from '@/lib/data/permits/drawing'
import { keepDrawingSchema } from '@/lib/schemas/drawing'
import { runAction } from '../../run-action'

type Result = ActionResult<{ permitId: string }>

export async function keepDrawingAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: keepDrawingSchema, formData }, keepDrawing)
}

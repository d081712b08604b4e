'use server'

import type { ActionResult } from '@/lib/action-result'
import { commitSupply, endCommitment } from '@/lib/data/plan/commitments'
import { commitSchema, endCommitmentSchema } from '@/lib/schemas/commitment'
import { runAction } from '../permits/run-action'

export type Committed = ActionResult<{ id: string }>

/** Confirms a move or a return; the plan is made around it from then on. */
export async function commitSupplyAction(
  _previous: Committed | null,
  formData: FormData,
): Promise<Committed> {
  return runAction({ schema: commitSchema, formData, lists: ['sizeId', 'quantity'] }, commitSupply)
}

export async function endCommitmentAction(
  _previous: Committed | null,
  formData: FormData,
): Promise<Committed> {
  return runAction({ schema: endCommitmentSchema, formData }, endCommitment)
}

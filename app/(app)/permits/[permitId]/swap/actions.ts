'use server'

import { redirect } from 'next/navigation'
import type { ActionResult } from '@/lib/action-result'
import { type Swapped, swapCylinder } from '@/lib/data/swaps'
import { swapSchema } from '@/lib/schemas/swap'
import { runAction } from '../../run-action'

export async function swapCylinderAction(
  _previous: ActionResult<Swapped> | null,
  formData: FormData,
): Promise<ActionResult<Swapped>> {
  const result = await runAction({ schema: swapSchema, formData }, swapCylinder)
  const permitId = formData.get('permitId')
  if (result.ok && typeof permitId === 'string')
    redirect(`/permits/${encodeURIComponent(permitId)}`)
  return result
}

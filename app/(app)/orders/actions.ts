'use server'

import type { ActionResult } from '@/lib/action-result'
import { cancelOrder, confirmOrder, type Outlook } from '@/lib/data/orders'
import { cancelOrderSchema, confirmOrderSchema } from '@/lib/schemas/order'
import { runAction } from '../permits/run-action'

export type Ordered = ActionResult<{ id: string; number: string; outlook: Outlook[] }>
export type Cancelled = ActionResult<{ id: string }>

/** Confirms an order for a site; from then on the forecast counts it. */
export async function confirmOrderAction(
  _previous: Ordered | null,
  formData: FormData,
): Promise<Ordered> {
  return runAction(
    { schema: confirmOrderSchema, formData, lists: ['sizeId', 'quantity'] },
    confirmOrder,
  )
}

export async function cancelOrderAction(
  _previous: Cancelled | null,
  formData: FormData,
): Promise<Cancelled> {
  return runAction({ schema: cancelOrderSchema, formData }, cancelOrder)
}

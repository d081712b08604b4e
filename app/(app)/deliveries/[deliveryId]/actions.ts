'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { type BatchHeld, holdBatch, settleDifference } from '@/lib/data/deliveries-differences'
import { holdBatchSchema, settleSchema } from '@/lib/schemas/delivery'

export type Settled = ActionResult<Readonly<{ deliveryId: string }>>
export type HeldBatch = ActionResult<BatchHeld>

export async function settleDifferenceAction(
  _previous: Settled | null,
  formData: FormData,
): Promise<Settled> {
  const viewer = await requireViewer()
  const parsed = settleSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const settled = await settleDifference(viewer, parsed.data)
    revalidatePath(`/deliveries/${settled.deliveryId}`)
    return { ok: true, data: settled }
  } catch (error) {
    return toFailure(error, formData)
  }
}

export async function holdBatchAction(
  _previous: HeldBatch | null,
  formData: FormData,
): Promise<HeldBatch> {
  const viewer = await requireViewer()
  const parsed = holdBatchSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const held = await holdBatch(viewer, parsed.data)
    revalidatePath(`/deliveries/${held.deliveryId}`)
    return { ok: true, data: held }
  } catch (error) {
    return toFailure(error, formData)
  }
}

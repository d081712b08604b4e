'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { type BatchHeld, holdBatch, settleDifference } from '@/lib/data/deliveries-differences'
import { type CheckedInvoice, checkDeliveryInvoice } from '@/lib/data/invoices'
import { holdBatchSchema, settleSchema } from '@/lib/schemas/delivery'
import { invoiceSchema } from '@/lib/schemas/invoice'

export type Settled = ActionResult<Readonly<{ deliveryId: string }>>
export type InvoiceChecked = ActionResult<CheckedInvoice>
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

/** Reads and compares; nothing is kept. */
export async function checkInvoiceAction(
  _previous: InvoiceChecked | null,
  formData: FormData,
): Promise<InvoiceChecked> {
  const viewer = await requireViewer()
  const parsed = invoiceSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    return { ok: true, data: await checkDeliveryInvoice(viewer, parsed.data) }
  } catch (error) {
    return toFailure(error, formData)
  }
}

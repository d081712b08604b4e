'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { type BatchTaken, takeImportBatch } from '@/lib/data/fleet-import'
import { importBatchSchema } from '@/lib/schemas/fleet-import'

export type TakenBatch = ActionResult<BatchTaken>

export async function takeImportBatchAction(
  _previous: TakenBatch | null,
  formData: FormData,
): Promise<TakenBatch> {
  const viewer = await requireViewer()
  const parsed = importBatchSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const taken = await takeImportBatch(viewer, parsed.data)
    if (taken.left === 0) revalidatePath('/cylinders')
    return { ok: true, data: taken }
  } catch (error) {
    return toFailure(error, formData)
  }
}

'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { removeCut, saveCut, updateCutList } from '@/lib/data/cut-lists'
import { keepEstimate } from '@/lib/data/estimates-kept'
import { updateJob } from '@/lib/data/jobs'
import { cutSchema, removeCutSchema } from '@/lib/schemas/cut'
import { cutListSettingsSchema, editJobSchema, keepEstimateSchema } from '@/lib/schemas/job'

export type SavedCut = ActionResult<{ id: string; jobId: string }>
export type JobChanged = ActionResult<{ jobId: string }>

/** Adds a cut or changes one, and goes back to the list. */
export async function saveCutAction(
  _previous: SavedCut | null,
  formData: FormData,
): Promise<SavedCut> {
  const viewer = await requireViewer()
  const parsed = cutSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  const saved = await saveCut(viewer, parsed.data).catch((error: unknown) =>
    toFailure(error, formData),
  )
  if ('ok' in saved) return saved
  revalidatePath(`/jobs/${saved.jobId}`)
  redirect(`/jobs/${saved.jobId}`)
}

export async function removeCutAction(
  _previous: JobChanged | null,
  formData: FormData,
): Promise<JobChanged> {
  const viewer = await requireViewer()
  const parsed = removeCutSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  const removed = await removeCut(viewer, parsed.data).catch((error: unknown) =>
    toFailure(error, formData),
  )
  if ('ok' in removed) return removed
  revalidatePath(`/jobs/${removed.jobId}`)
  redirect(`/jobs/${removed.jobId}`)
}

/** Fuel and process of the whole list. */
export async function updateCutListAction(
  _previous: JobChanged | null,
  formData: FormData,
): Promise<JobChanged> {
  const viewer = await requireViewer()
  const parsed = cutListSettingsSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  const changed = await updateCutList(viewer, parsed.data).catch((error: unknown) =>
    toFailure(error, formData),
  )
  if ('ok' in changed) return changed
  revalidatePath(`/jobs/${changed.jobId}`)
  redirect(`/jobs/${changed.jobId}`)
}

export async function updateJobAction(
  _previous: ActionResult<{ id: string }> | null,
  formData: FormData,
): Promise<ActionResult<{ id: string }>> {
  const viewer = await requireViewer()
  const parsed = editJobSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  const changed = await updateJob(viewer, parsed.data).catch((error: unknown) =>
    toFailure(error, formData),
  )
  if ('ok' in changed) return changed
  revalidatePath(`/jobs/${changed.id}`)
  redirect(`/jobs/${changed.id}`)
}

export async function keepEstimateAction(
  _previous: SavedCut | null,
  formData: FormData,
): Promise<SavedCut> {
  const viewer = await requireViewer()
  const parsed = keepEstimateSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const kept = await keepEstimate(viewer, parsed.data)
    revalidatePath(`/jobs/${kept.jobId}`)
    return { ok: true, data: kept }
  } catch (error) {
    return toFailure(error, formData)
  }
}

'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { saveSheet } from '@/lib/data/cut-sheets'
import { saveSheetSchema } from '@/lib/schemas/sheet-save'
import type { JobChanged } from '../actions'

/** Saves every changed row of the sheet in one act, and goes back to the list. */
export async function saveSheetAction(
  _previous: JobChanged | null,
  formData: FormData,
): Promise<JobChanged> {
  const viewer = await requireViewer()
  const parsed = saveSheetSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  const saved = await saveSheet(viewer, parsed.data).catch((error: unknown) =>
    toFailure(error, formData),
  )
  if ('ok' in saved) return saved
  revalidatePath(`/jobs/${saved.jobId}`)
  redirect(`/jobs/${saved.jobId}`)
}

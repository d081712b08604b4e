'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { saveStorageAnswers } from '@/lib/data/storage-answers'
import { storageAnswersSchema } from '@/lib/schemas/storage'

export type AnswersSaved = ActionResult<Readonly<{ answersId: string }>>

export async function saveStorageAnswersAction(
  _previous: AnswersSaved | null,
  formData: FormData,
): Promise<AnswersSaved> {
  const viewer = await requireViewer()
  const parsed = storageAnswersSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const saved = await saveStorageAnswers(viewer, parsed.data)
    revalidatePath('/storage')
    return { ok: true, data: saved }
  } catch (error) {
    return toFailure(error, formData)
  }
}

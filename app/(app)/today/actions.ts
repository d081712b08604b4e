'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { seeNotice } from '@/lib/data/today/notices'
import { noticeSeenSchema } from '@/lib/schemas/watch'

type Result = ActionResult<{ noticeId: string }>

export async function seeNoticeAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const viewer = await requireViewer()
  const parsed = noticeSeenSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const data = await seeNotice(viewer, parsed.data)
    revalidatePath('/today')
    return { ok: true, data }
  } catch (error) {
    return toFailure(error, formData)
  }
}

'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { recordWorkOutside } from '@/lib/data/outside'
import { outsideSchema } from '@/lib/schemas/watch'

type Result = ActionResult<{ id: string }>

async function record(
  formData: FormData,
): Promise<ActionResult<{ id: string; siteId: string; permitId: string | null }>> {
  const viewer = await requireViewer()
  const parsed = outsideSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    return { ok: true, data: await recordWorkOutside(viewer, parsed.data) }
  } catch (error) {
    return toFailure(error, formData)
  }
}

export async function recordWorkOutsideAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  const result = await record(formData)
  if (!result.ok) return result
  revalidatePath('/today')
  redirect(
    result.data.permitId
      ? `/permits/${result.data.permitId}/record`
      : `/today?site=${result.data.siteId}`,
  )
}

'use server'

import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireAnyViewer } from '@/lib/auth/viewer'
import { begin } from '@/lib/data/begin'
import { beginSchema } from '@/lib/schemas/people'

type Begun = ActionResult<{ id: string }>

export async function beginAction(_previous: Begun | null, formData: FormData): Promise<Begun> {
  const viewer = await requireAnyViewer()
  const parsed = beginSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    return { ok: true, data: await begin(viewer, parsed.data) }
  } catch (error) {
    return toFailure(error, formData)
  }
}

'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { decideFinding, lookAgain } from '@/lib/data/findings/decide'
import { decideFindingSchema, lookAgainSchema } from '@/lib/schemas/finding'

export type FindingDecided = ActionResult<{ id: string }>
export type LookAsked = ActionResult<{ asked: true }>

/** Keeps what somebody made of a finding, and shows what changed. */
export async function decideFindingAction(
  _previous: FindingDecided | null,
  formData: FormData,
): Promise<FindingDecided> {
  const viewer = await requireViewer()
  const parsed = decideFindingSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const decided = await decideFinding(viewer, parsed.data)
    revalidatePath('/audit', 'layout')
    return { ok: true, data: decided }
  } catch (error) {
    return toFailure(error, formData)
  }
}

/** Asks for the record to be looked through again. */
export async function lookAgainAction(
  _previous: LookAsked | null,
  formData: FormData,
): Promise<LookAsked> {
  const viewer = await requireViewer()
  const parsed = lookAgainSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const asked = await lookAgain(viewer, parsed.data)
    revalidatePath('/audit/findings')
    return { ok: true, data: asked }
  } catch (error) {
    return toFailure(error, formData)
  }
}

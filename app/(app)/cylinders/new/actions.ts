'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { takeInCylinder } from '@/lib/data/cylinders-take-in'
import { takeInSchema } from '@/lib/schemas/cylinder-life'

export type TakenIn = ActionResult<Readonly<{ cylinderId: string; eventId: string }>>

export async function takeInCylinderAction(
  _previous: TakenIn | null,
  formData: FormData,
): Promise<TakenIn> {
  const viewer = await requireViewer()
  const parsed = takeInSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const taken = await takeInCylinder(viewer, parsed.data)
    revalidatePath('/cylinders')
    return { ok: true, data: taken }
  } catch (error) {
    return toFailure(error, formData)
  }
}

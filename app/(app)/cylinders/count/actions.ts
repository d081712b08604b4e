'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { type CountEnded, endCount, recordSighting, startCount } from '@/lib/data/stock-counts'
import { endCountSchema, sightingSchema, startCountSchema } from '@/lib/schemas/stock-count'

export type CountStarted = ActionResult<Readonly<{ countId: string }>>
export type Sighted = ActionResult<Readonly<{ countId: string; serial: string }>>
export type CountOver = ActionResult<CountEnded>

export async function startCountAction(
  _previous: CountStarted | null,
  formData: FormData,
): Promise<CountStarted> {
  const viewer = await requireViewer()
  const parsed = startCountSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    return { ok: true, data: await startCount(viewer, parsed.data) }
  } catch (error) {
    return toFailure(error, formData)
  }
}

export async function recordSightingAction(
  _previous: Sighted | null,
  formData: FormData,
): Promise<Sighted> {
  const viewer = await requireViewer()
  const parsed = sightingSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    return { ok: true, data: await recordSighting(viewer, parsed.data) }
  } catch (error) {
    return toFailure(error, formData)
  }
}

export async function endCountAction(
  _previous: CountOver | null,
  formData: FormData,
): Promise<CountOver> {
  const viewer = await requireViewer()
  const parsed = endCountSchema.safeParse({
    ...Object.fromEntries(formData),
    confirmed: formData.getAll('confirmed'),
  })
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const ended = await endCount(viewer, parsed.data)
    revalidatePath(`/cylinders/count/${ended.countId}`)
    return { ok: true, data: ended }
  } catch (error) {
    return toFailure(error, formData)
  }
}

'use server'

import { revalidatePath } from 'next/cache'
import type { z } from 'zod'
import type { Viewer } from '@/lib/access/viewer'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { addInstrument, checkInstrument } from '@/lib/data/instruments'
import { addInstrumentSchema, checkInstrumentSchema } from '@/lib/schemas/instrument'

type Result = ActionResult<{ id: string }>

async function run<S extends z.ZodType>(
  schema: S,
  formData: FormData,
  act: (viewer: Viewer, input: z.output<S>) => Promise<{ id: string }>,
): Promise<Result> {
  const viewer = await requireViewer()
  const parsed = schema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const data = await act(viewer, parsed.data)
    revalidatePath('/instruments')
    return { ok: true, data }
  } catch (error) {
    return toFailure(error, formData)
  }
}

export async function addInstrumentAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return run(addInstrumentSchema, formData, addInstrument)
}

export async function checkInstrumentAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return run(checkInstrumentSchema, formData, checkInstrument)
}

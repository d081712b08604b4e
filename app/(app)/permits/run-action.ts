import 'server-only'
import { revalidatePath } from 'next/cache'
import type { z } from 'zod'
import type { Viewer } from '@/lib/access/viewer'
import { type ActionFailure, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'

type Ran<T> = { ok: true; data: T } | ActionFailure

/** Boxes that may be ticked more than once come as a list; everything else once. */
function typedFields(formData: FormData, lists: readonly string[]): Record<string, unknown> {
  const fields: Record<string, unknown> = Object.fromEntries(formData)
  for (const name of lists) fields[name] = formData.getAll(name)
  return fields
}

/** The one shape of this route's actions: who, parse, act, and what was refused as data. */
export async function runAction<S extends z.ZodType, T>(
  {
    schema,
    formData,
    lists = [],
  }: Readonly<{ schema: S; formData: FormData; lists?: readonly string[] }>,
  act: (viewer: Viewer, input: z.output<S>) => Promise<T>,
): Promise<Ran<T>> {
  const viewer = await requireViewer() // redirects when signed out, so it stays outside the try
  const parsed = schema.safeParse(typedFields(formData, lists))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const data = await act(viewer, parsed.data)
    revalidatePath('/permits', 'layout')
    return { ok: true, data }
  } catch (error) {
    return toFailure(error, formData)
  }
}
